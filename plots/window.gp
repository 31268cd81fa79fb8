# window.gp - a home sensor: flux density against angle, and where the controller takes home.
#
#   slewtime window truck.yaml --csv > window.csv
#   gnuplot -e "format='png'" window.gp > window.png
#
# Reads from the current directory
#   window.csv  one row for each rule, start and speed, as `slewtime window --csv` writes it:
#               approach, start, speed_deg_per_s, found, acted_low_deg, acted_high_deg,
#               rests_low_deg, rests_high_deg, home_deg, operate_deg, release_deg
#   flux.csv    with has_flux=1, one row for each angle: angle_deg, own_mT, narrowest_mT, widest_mT
# Variables, passed by -e, all but those of has_flux optional
#   format      'png' (1600 x 1000), 'svg', 'pdf', or 'dumb' for a terminal of columns x lines
#   home, operate, release           the window [deg], else as the rows have it; operate < 0: it
#                                    never closes
#   has_flux                         1: flux.csv is there; then, too, needs
#   operate_flux, release_flux       of the switch [mT]
#   has_cases                        1: with the extremes of the tolerances
#   has_home                         0: no search meets an edge
#   own_rule, own_start              the rows of the lower panel: 'falling', 'left'
#   heading_1, heading_2, heading_3  what was found, what the rules make of it, on what truck
#   origin                           which scenario, small in the corner
# The picture goes to stdout.

if (!exists("format"))       format = 'png'
if (!exists("columns"))      columns = 100
if (!exists("lines"))        lines = 24
if (!exists("has_flux"))     has_flux = 0
if (!exists("has_cases"))    has_cases = 0
if (!exists("has_home"))     has_home = 1
if (!exists("own_rule"))     own_rule = 'falling'
if (!exists("own_start"))    own_start = 'left'
if (!exists("heading_1"))    heading_1 = 'Where the home sensor closes and opens'
if (!exists("heading_2"))    heading_2 = ''
if (!exists("heading_3"))    heading_3 = ''
if (!exists("origin"))       origin = ''
if (has_flux && !exists("operate_flux")) { printerr "window.gp: the variable operate_flux is missing: at which the switch closes [mT]"; exit status 2 }
if (has_flux && !exists("release_flux")) { printerr "window.gp: the variable release_flux is missing: at which the switch opens [mT]"; exit status 2 }

set encoding utf8
set datafile separator comma
set datafile columnheaders
set datafile missing NaN
if (format eq 'png') set terminal pngcairo size 1600,1000 font 'sans,20' background 'white'
if (format eq 'svg') set terminal svg size 1600,1000 font 'sans,20' background 'white'
if (format eq 'pdf') set terminal pdfcairo size 32cm,20cm font 'sans,16' background 'white'
if (format eq 'dumb') set terminal dumb size columns, lines

if (!exists("home"))    { stats 'window.csv' using 'home_deg' nooutput name 'home'; home = home_mean }
if (!exists("operate")) { stats 'window.csv' using 'operate_deg' nooutput name 'near'; operate = exists("near_mean") ? near_mean : -1 }
if (!exists("release")) { stats 'window.csv' using 'release_deg' nooutput name 'far'; release = exists("far_mean") ? far_mean : 360 }

reach = operate > 0 ? 1.8 * release : 10
if (has_flux) {
    stats 'flux.csv' using 'angle_deg':'own_mT' nooutput
    reach = STATS_max_x - home
    low = STATS_min_y; high = STATS_max_y
    if (has_cases) {
        stats 'flux.csv' using 'angle_deg':'widest_mT' nooutput
        low = STATS_min_y < low ? STATS_min_y : low; high = STATS_max_y > high ? STATS_max_y : high
    }
    high = operate_flux > high ? operate_flux : high
}
# the rows of other rules and starts are no gaps
of(rule, start, value) = stringcolumn('approach') eq rule && stringcolumn('start') eq start && column('found') > 0 ? value : NaN
middle(rule, start) = of(rule, start, (column('acted_low_deg') + column('acted_high_deg')) / 2)
if (has_home) {
    stats 'window.csv' using (column('found') > 0 ? column('speed_deg_per_s') : NaN) nooutput
    slowest = STATS_min; fastest = STATS_max
    pad = fastest > slowest ? 0.12 * (fastest - slowest) : 0.5
    past(figure) = operate - abs(column(figure) - home)
    farthest = 0
    do for [end in 'rests_low_deg rests_high_deg'] {
        stats 'window.csv' using (of(own_rule, own_start, past(end))) nooutput
        farthest = STATS_max > farthest ? STATS_max : farthest
    }
    size = 10 ** floor(log10(farthest / 3.0))
    step = size * (farthest / 3.0 / size < 2 ? 1 : farthest / 3.0 / size < 5 ? 2 : 5)
}

if (format eq 'dumb') {
    set title heading_1 noenhanced
    set key outside below
    if (has_flux) {
        set xlabel 'angle, deg'
        set yrange [1.2 * low - 0.2 : 1.1 * high]
        plot 'flux.csv' using 'angle_deg':'own_mT' with lines title 'mT at the switch', \
             operate_flux with lines title 'closes', release_flux with lines title 'opens'
    } else {
        set xlabel 'speed, deg/s'
        set ylabel 'home, deg'
        plot 'window.csv' using 'speed_deg_per_s':(column('found') > 0 && stringcolumn('start') ne 'inside' ? column('acted_low_deg') : NaN) \
                 with points title 'home is acted on'
    }
    exit
}

set multiplot
set label 1 heading_1 at screen 0.03, 0.955 left font ',30' noenhanced
set label 2 heading_2 at screen 0.03, 0.905 left font ',22' noenhanced
set label 3 heading_3 at screen 0.03, 0.865 left font ',16' noenhanced textcolor rgb '#444444'
set label 99 origin at screen 0.985, 0.018 right font ',14' noenhanced textcolor rgb '#444444'
set border 3
set tics nomirror
unset key
set style textbox opaque noborder fillcolor rgb 'white'

# ---- left: flux density against angle, with the regions of the window ----
set lmargin at screen 0.075; set rmargin at screen 0.5
set tmargin at screen 0.765; set bmargin at screen 0.24
set xlabel 'angle of the axis, deg'
set xrange [home - reach : home + reach]
if (operate > 0) {
    set object 1 rectangle from first home - operate, graph 0 to first home + operate, graph 1 behind \
        fillcolor rgb '#c9dceb' fillstyle solid border lc rgb '#0072b2'
    set object 2 rectangle from first home - release, graph 0 to first home - operate, graph 1 behind \
        fillcolor rgb '#777777' fillstyle pattern 4 border lc rgb '#777777'
    set object 3 rectangle from first home + operate, graph 0 to first home + release, graph 1 behind \
        fillcolor rgb '#777777' fillstyle pattern 4 border lc rgb '#777777'
    if (operate < reach && operate >= 0.15 * reach) { set label 5 'closed' at first home, graph 0.96 center font ',20' front }
    if (operate < 0.15 * reach) { set label 5 'closed' at first home, graph 0.96 center font ',20' front boxed }
    if (release < reach) {
        set label 6 'open' at first home - 0.5 * (reach + release), graph 0.96 center font ',20' front
        set label 7 'open' at first home + 0.5 * (reach + release), graph 0.96 center font ',20' front
    }
} else {
    set label 5 'open everywhere' at graph 0.98, graph 0.55 right font ',20' front
}
if (has_flux) {
    set label 4 'Flux density along the magnet at the switch, mT' at graph 0, 1.05 left font ',20'
    set yrange [(low < 0 ? 1.3 * low : 0) - 0.03 * high : 1.16 * high]
    extreme(figure) = has_cases ? column(figure) : NaN
    plot 'flux.csv' using 'angle_deg':(extreme('widest_mT')) with lines lw 3 dt 3 lc rgb '#d55e00' notitle, \
         '' using 'angle_deg':(extreme('narrowest_mT')) with lines lw 3 dt 2 lc rgb '#009e73' notitle, \
         operate_flux with lines lw 2 lc rgb '#0072b2' notitle, \
         release_flux with lines lw 2 dt 4 lc rgb '#0072b2' notitle, \
         'flux.csv' using 'angle_deg':'own_mT' with lines lw 4 lc rgb '#000000' notitle
} else {
    set label 4 'The window as given' at graph 0, 1.05 left font ',20'
    set yrange [0 : 1]; unset ytics; set border 1
    plot -1
}
unset label; unset object
set border 3; set ytics autofreq nomirror

# ---- right: where home is taken, and how far past the edge, which all rules have in common ----
set lmargin at screen 0.59; set rmargin at screen 0.975
if (has_home) {
    set xrange [slowest - pad : fastest + pad]
    set tmargin at screen 0.765; set bmargin at screen 0.54
    set format x ''; unset xlabel
    set label 4 'Where the controller acts on home, deg' at graph 0, 1.11 left font ',20'
    set yrange [home - 1.4 * operate : home + 1.4 * operate]
    set grid ytics lc rgb '#dddddd'
    plot for [start in 'left right below above'] 'window.csv' using 'speed_deg_per_s':(middle('either', start)) \
             with linespoints lw 2 dt 2 pt 8 ps 3 lc rgb '#000000' notitle, \
         for [start in 'left right below above inside'] '' using 'speed_deg_per_s':(middle('rising', start)) \
             with linespoints lw 2 dt 3 pt 5 ps 1.4 lc rgb '#d55e00' notitle, \
         for [start in 'left right below above inside'] '' using 'speed_deg_per_s':(middle('falling', start)) \
             with linespoints lw 2 pt 7 ps 1.4 lc rgb '#0072b2' notitle
    set tmargin at screen 0.445; set bmargin at screen 0.24
    set format x '%g'; set xlabel 'speed, deg/s'
    set label 4 'How far past its edge that is, deg' at graph 0, 1.12 left font ',20'
    set ytics step nomirror
    set yrange [0 : 1.15 * farthest]
    plot 'window.csv' using 'speed_deg_per_s':(of(own_rule, own_start, past('rests_low_deg'))):(of(own_rule, own_start, past('rests_high_deg'))) \
             with filledcurves fc rgb '#bbbbbb' notitle, \
         '' using 'speed_deg_per_s':(of(own_rule, own_start, past('acted_low_deg'))):(of(own_rule, own_start, past('acted_high_deg'))) \
             with filledcurves fc rgb '#555555' notitle
}
unset label; unset border; unset tics; unset grid; unset xlabel
set xrange [0 : 1]; set yrange [0 : 1]
if (!has_home) {
    set tmargin at screen 0.765; set bmargin at screen 0.24
    set label 4 'No search meets an edge.' at graph 0.5, 0.6 center font ',24'
    plot NaN
    unset label
}

# ---- the keys of both halves ----
set tmargin at screen 0.16; set bmargin at screen 0.02
set lmargin at screen 0.03; set rmargin at screen 0.54
set key inside left center horizontal Left reverse samplen 3 width 1 maxcols 3
if (has_flux && has_cases) {
    plot NaN with lines lw 4 lc rgb '#000000' title 'as it is', \
         NaN with lines lw 3 dt 2 lc rgb '#009e73' title 'narrowest', \
         NaN with lines lw 3 dt 3 lc rgb '#d55e00' title 'widest', \
         NaN with lines lw 2 lc rgb '#0072b2' title sprintf('closes, %.4g mT', operate_flux), \
         NaN with lines lw 2 dt 4 lc rgb '#0072b2' title sprintf('opens, %.4g mT', release_flux), \
         NaN with boxes fillstyle pattern 4 lc rgb '#777777' title 'as it came'
}
if (has_flux && !has_cases) {
    plot NaN with lines lw 4 lc rgb '#000000' title 'as it is', \
         NaN with lines lw 2 lc rgb '#0072b2' title sprintf('closes, %.4g mT', operate_flux), \
         NaN with lines lw 2 dt 4 lc rgb '#0072b2' title sprintf('opens, %.4g mT', release_flux), \
         NaN with boxes fillstyle pattern 4 lc rgb '#777777' title 'as it came'
}
if (!has_flux) {
    plot NaN with boxes fillstyle pattern 4 lc rgb '#777777' title 'between: as it came'
}
if (has_home) {
    set lmargin at screen 0.56; set rmargin at screen 0.98
    plot NaN with linespoints lw 2 dt 2 pt 8 ps 3 lc rgb '#000000' title 'either', \
         NaN with linespoints lw 2 dt 3 pt 5 ps 1.4 lc rgb '#d55e00' title 'rising', \
         NaN with linespoints lw 2 pt 7 ps 1.4 lc rgb '#0072b2' title 'falling', \
         NaN with boxes fillstyle solid lc rgb '#555555' title 'acted on', \
         NaN with boxes fillstyle solid lc rgb '#bbbbbb' title 'comes to rest'
}
unset multiplot
