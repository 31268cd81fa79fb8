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
# Variables, passed by -e, all but those of has_flux optional: those of common.gp, and
#   home, operate, release           the window [deg], else as the rows have it; operate < 0: it
#                                    never closes
#   has_flux                         1: flux.csv is there; then, too, needs
#   operate_flux, release_flux       of the switch [mT]
#   has_cases                        1: with the extremes of the tolerances
#   has_home                         0: no search meets an edge
#   name_either, name_rising, name_falling    what the rules are called: 'from the left'
#   own_rule, own_start              the rows of the lower panel: 'falling', 'left'
# The picture goes to stdout.

if (!exists("has_flux"))     has_flux = 0
if (!exists("has_cases"))    has_cases = 0
if (!exists("has_home"))     has_home = 1
if (!exists("own_rule"))     own_rule = 'falling'
if (!exists("name_either"))  { name_either = 'either'; name_rising = 'rising'; name_falling = 'falling' }
if (!exists("own_start"))    own_start = 'left'
if (!exists("heading_1"))    heading_1 = 'Where the home sensor closes and opens'
if (has_flux && !exists("operate_flux")) { printerr "window.gp: the variable operate_flux is missing: at which the switch closes [mT]"; exit status 2 }
if (has_flux && !exists("release_flux")) { printerr "window.gp: the variable release_flux is missing: at which the switch opens [mT]"; exit status 2 }

findings = exists("slide") && slide ? 1 : 2
load system("dirname '".ARG0."'")."/common.gp"

set datafile missing NaN
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
    if (has_cases) {
        stats 'flux.csv' using 'angle_deg':'narrowest_mT' nooutput
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
    set title wrap(heading_1, columns - 4)
    set key outside below
    if (has_flux) {
        set xlabel 'angle, °'
        set yrange [1.2 * low - 0.2 : 1.1 * high]
        plot 'flux.csv' using 'angle_deg':'own_mT' with lines title 'mT at the switch', \
             operate_flux with lines title 'closes', release_flux with lines title 'opens'
    } else {
        set xlabel 'speed, °/s'
        set ylabel "home\n°"
        plot 'window.csv' using 'speed_deg_per_s':(column('found') > 0 && stringcolumn('start') ne 'inside' ? column('acted_low_deg') : NaN) \
                 with points title 'home is taken'
    }
    exit
}

# a sensor that never closes, and no magnet: there is no curve to draw
if (operate <= 0 && !has_flux) {
    unset border; unset tics; unset grid
    set xrange [0 : 1]; set yrange [0 : 1]
    set label 5 'This sensor never closes.' at screen 0.5, 0.55 center font bold tc rgb ink_trouble
    set label 6 'A search finds no home: it drives to one stop, then to the other.' at screen 0.5, 0.47 center font text
    plot NaN
    exit
}

set multiplot
# ---- left, and alone on a slide: flux density against angle, with the regions of the window ----
y_name = has_flux ? 'flux density along the magnet at the switch, mT' : 'the window as given'
set lmargin at screen 0.085; set rmargin at screen (slide ? 0.97 : 0.5)
@name_y; set bmargin at screen (slide ? 0.33 : 0.21)
set xlabel 'angle of the axis, °'
set xrange [home - reach : home + reach]
if (operate > 0) {
    set object 1 rectangle from first home - operate, graph 0 to first home + operate, graph 1 behind @fill_target
    set object 2 rectangle from first home - release, graph 0 to first home - operate, graph 1 behind \
        fc rgb ink_faint fs pattern 4 border lc rgb ink_faint
    set object 3 rectangle from first home + operate, graph 0 to first home + release, graph 1 behind \
        fc rgb ink_faint fs pattern 4 border lc rgb ink_faint
    if (operate < reach) { set label 5 'closed' at first home, graph 0.95 center font text front boxed }
    if (release < reach) {
        set label 6 'open' at first home - 0.5 * (reach + release), graph 0.95 center font text front
        set label 7 'open' at first home + 0.5 * (reach + release), graph 0.95 center font text front
    }
} else {
    set label 5 'This sensor never closes: a search finds no home.' at graph 0.5, graph 0.95 center font bold front boxed tc rgb ink_trouble
}
extreme(figure) = has_cases ? column(figure) : NaN
curve_widest = "with lines lw 3 * thick dt 3 lc rgb ink_rotation"
curve_narrowest = "with lines lw 3 * thick dt 2 lc rgb ink_elevation"
curve_own = "with lines lw 4 * thick lc rgb ink"
line_closes = "with lines lw 2.5 * thick lc rgb role_good"
line_opens = "with lines lw 2.5 * thick dt 4 lc rgb role_good"
if (has_flux) {
    set yrange [(low < 0 ? 1.3 * low : 0) - 0.03 * high : 1.2 * high]
    plot 'flux.csv' using 'angle_deg':(extreme('widest_mT')) @curve_widest notitle, \
         '' using 'angle_deg':(extreme('narrowest_mT')) @curve_narrowest notitle, \
         operate_flux @line_closes notitle, \
         release_flux @line_opens notitle, \
         'flux.csv' using 'angle_deg':'own_mT' @curve_own notitle
} else {
    set yrange [0 : 1]; unset ytics; set border 1
    plot -1
}
unset label; unset object
set border 3; set ytics autofreq nomirror out font small

# ---- right: where home is taken, and how far past the edge, which all rules have in common ----
rule_either = "with linespoints lw 2 dt 2 pt 8 ps 2.4 * dot lc rgb ink"
rule_rising = "with linespoints lw 2 dt 3 pt 5 ps 1.4 * dot lc rgb ink_rotation"
rule_falling = "with linespoints lw 2 pt 7 ps 1.4 * dot lc rgb ink_elevation"
set lmargin at screen 0.59; set rmargin at screen 0.975
if (has_home && !slide) {
    set xrange [slowest - pad : fastest + pad]
    set tmargin at screen panel_top - 0.01; set bmargin at screen 0.53
    set format x ''; unset xlabel
    set label 4 'where the controller takes home, °' at graph 0, graph 1 left offset 0,0.8 font text
    set yrange [home - 1.4 * operate : home + 1.4 * operate]
    plot for [start in 'left right below above'] 'window.csv' using 'speed_deg_per_s':(middle('either', start)) @rule_either notitle, \
         for [start in 'left right below above inside'] '' using 'speed_deg_per_s':(middle('rising', start)) @rule_rising notitle, \
         for [start in 'left right below above inside'] '' using 'speed_deg_per_s':(middle('falling', start)) @rule_falling notitle
    set tmargin at screen 0.46; set bmargin at screen 0.21
    set format x '%g'; set xlabel 'speed, °/s'
    set label 4 'how far past its edge that is, °'
    set ytics step nomirror
    set yrange [0 : 1.3 * farthest]
    plot 'window.csv' using 'speed_deg_per_s':(of(own_rule, own_start, past('rests_low_deg'))):(of(own_rule, own_start, past('rests_high_deg'))) \
             with filledcurves fc rgb role_warning notitle, \
         '' using 'speed_deg_per_s':(of(own_rule, own_start, past('acted_low_deg'))):(of(own_rule, own_start, past('acted_high_deg'))) \
             with filledcurves fc rgb ink_quiet notitle
}
unset label; unset border; unset tics; unset grid; unset xlabel
set xrange [0 : 1]; set yrange [0 : 1]
if (!has_home && !slide) {
    set tmargin at screen panel_top; set bmargin at screen 0.21
    set label 4 'No search meets an edge.' at graph 0.5, graph 0.6 center font bold
    plot NaN
    unset label
}

# ---- the keys of both halves: what is drawn, and no more ----
set tmargin at screen (slide ? 0.19 : 0.13); set bmargin at screen 0.03
set lmargin at screen 0.03; set rmargin at screen (slide ? 0.97 : 0.54)
set key inside left center horizontal Left reverse samplen 2.5 width (slide ? 3 : 1) maxcols (slide ? 2 : 3) font small
if (has_flux) {
    plot NaN @curve_own title 'as it is', \
         NaN @line_closes title sprintf('closes at %.4g mT', operate_flux), \
         NaN @line_opens title sprintf('opens at %.4g mT', release_flux), \
         (operate > 0 ? NaN : 1 / 0) with boxes fillstyle pattern 4 lc rgb ink_faint title (operate > 0 ? 'holds its last state' : ''), \
         (has_cases ? NaN : 1 / 0) @curve_narrowest title (has_cases ? 'narrowest' : ''), \
         (has_cases ? NaN : 1 / 0) @curve_widest title (has_cases ? 'widest' : '')
}
if (!has_flux && operate > 0) {
    plot NaN with boxes fillstyle pattern 4 lc rgb ink_faint title 'between: it holds its last state'
}
if (has_home && !slide) {
    set lmargin at screen 0.56; set rmargin at screen 0.98
    plot NaN @rule_either title name_either, \
         NaN @rule_rising title name_rising, \
         NaN @rule_falling title name_falling, \
         NaN with boxes fillstyle solid lc rgb ink_quiet title 'home taken', \
         NaN with boxes fillstyle solid lc rgb role_warning title 'comes to rest'
}
unset multiplot
