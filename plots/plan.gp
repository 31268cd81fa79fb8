# plan.gp - how often each demand is met over the stow point and the deploy seconds.
#
#   slewtime plan truck.yaml --plot plan.png
#
# Reads from the current directory
#   plan.csv  one row for each point of a curve, of `what` (point, seconds) and `axis`, at_deg or at_s,
#             with the shares that miss each demand and whether all are met (demands_meets)
# Variables, passed by -e, all but the first optional
#   panels      how many of the has_ ones below are 1
#   has_point_rotation, has_point_elevation, has_seconds_rotation, has_seconds_elevation
#               1: plan.csv has such a curve
#   chosen_point_rotation, chosen_point_elevation, chosen_seconds_rotation, chosen_seconds_elevation
#               the setting that the others are held at [deg], [s]
#   has_keepout 0: there is no keep-out zone
#   heading_1, heading_2, heading_3  what to do, what is today, on what truck
#   format      'png' (1600 x 1000), 'svg', 'pdf', or 'dumb' for a terminal of columns x lines
#   origin      which scenario and samples, small in the corner
#   caution     what can be struck, at the foot
# The picture goes to stdout.

if (!exists("panels")) { printerr "plan.gp: the variable panels is missing: how many curves there are"; exit status 2 }
if (!exists("format"))    format = 'png'
if (!exists("columns"))   columns = 100
if (!exists("lines"))     lines = 24
if (!exists("heading_1")) heading_1 = 'What is demanded, over the settings'
if (!exists("heading_2")) heading_2 = ''
if (!exists("heading_3")) heading_3 = ''
if (!exists("origin"))    origin = ''
if (!exists("has_keepout"))           has_keepout = 1
if (!exists("has_point_rotation"))    has_point_rotation = 0
if (!exists("has_point_elevation"))   has_point_elevation = 0
if (!exists("has_seconds_rotation"))  has_seconds_rotation = 0
if (!exists("has_seconds_elevation")) has_seconds_elevation = 0
if (!exists("chosen_point_rotation"))    chosen_point_rotation = NaN
if (!exists("chosen_point_elevation"))   chosen_point_elevation = NaN
if (!exists("chosen_seconds_rotation"))  chosen_seconds_rotation = NaN
if (!exists("chosen_seconds_elevation")) chosen_seconds_elevation = NaN

set encoding utf8
set datafile separator comma
set datafile columnheaders
if (format eq 'png') set terminal pngcairo size 1600,1000 font 'sans,18' background 'white'
if (format eq 'svg') set terminal svg size 1600,1000 font 'sans,18' background 'white'
if (format eq 'pdf') set terminal pdfcairo size 32cm,20cm font 'sans,14' background 'white'
if (format eq 'dumb') set terminal dumb size columns, lines

array has[4] = [has_point_rotation, has_point_elevation, has_seconds_rotation, has_seconds_elevation]
array chosen[4] = [chosen_point_rotation, chosen_point_elevation, chosen_seconds_rotation, chosen_seconds_elevation]
array name[4] = ['Stow point, rotation', 'Stow point, elevation', 'Deploy seconds, rotation', 'Deploy seconds, elevation']
what(k) = k <= 2 ? 'point' : 'seconds'
axis(k) = k % 2 == 1 ? 'rotation' : 'elevation'
here(k) = stringcolumn('what') eq what(k) && stringcolumn('axis') eq axis(k)
at(k) = here(k) ? (k <= 2 ? column('at_deg') : column('at_s')) : NaN
met(k) = here(k) && stringcolumn('demands_meets') eq 'meets'

set yrange [-3:103]
set border 3
set tics nomirror
set grid ytics lc rgb '#dddddd'

if (panels == 0) {
    set label 1 heading_1 at screen 0.03, 0.6 noenhanced
    set label 2 'Nothing can be set: one stow point, one pair of seconds.' at screen 0.03, 0.5 noenhanced
    unset border; unset tics; unset key
    set xrange [0:1]
    plot NaN notitle
    exit
}

if (format eq 'dumb') {
    k = has[4] ? 4 : (has[3] ? 3 : (has[2] ? 2 : 1))
    set title heading_1 noenhanced
    set key outside below
    set xlabel name[k]
    plot 'plan.csv' using (at(k)):(100 * (1 - column('demands_deploy_inside_missed'))) with linespoints title 'deploys inside, %', \
         '' using (at(k)):(100 * (1 - column('demands_stow_on_target_missed'))) with linespoints title 'stows on the point, %', \
         '' using (at(k)):(met(k) ? 100 : NaN) with points title 'meets all demands'
    exit
}

# words that are wider than the picture go on in a second line
wide = 105
brk(s) = strlen(s) <= wide ? strlen(s) + 1 : (strstrt(s[wide-25:wide], ' ') > 0 ? wide - 26 + strstrt(s[wide-25:wide], ' ') : wide)
wrap(s) = strlen(s) <= wide ? s : s[1:brk(s)]."\n".s[brk(s)+1:*]

unset key
set multiplot
set label 1 wrap(heading_1) at screen 0.03, 0.965 left font ',22' noenhanced
set label 2 wrap(heading_2) at screen 0.03, 0.89 left font ',16' noenhanced textcolor rgb '#444444'
set label 3 heading_3 at screen 0.03, 0.83 left font ',16' noenhanced textcolor rgb '#444444'
set label 99 origin at screen 0.985, 0.018 right font ',13' noenhanced textcolor rgb '#444444'
if (exists("caution")) { set label 98 caution at screen 0.03, 0.018 left font ',12' noenhanced textcolor rgb '#a03000' }
wide_each = 0.93 / panels
shown = 0
do for [k = 1:4] {
    if (has[k]) {
        set lmargin at screen 0.075 + shown * wide_each
        set rmargin at screen 0.03 + (shown + 1) * wide_each
        set tmargin at screen 0.74; set bmargin at screen 0.29
        set label 4 name[k] at graph 0.0, 1.06 left font ',18' noenhanced
        set xlabel (k <= 2 ? 'deg' : 's')
        if (shown == 0) { set ylabel 'share of all days and trucks, %' } else { unset ylabel }
        unset arrow
        set arrow 1 from first chosen[k], graph 0 to first chosen[k], graph 1 nohead lw 2 dt 2 lc rgb '#000000' back
        set offsets graph 0.04, graph 0.04, 0, 0
        plot 'plan.csv' using (met(k) ? at(k) : NaN):(103) with impulses lw 14 lc rgb '#c8e6c9' notitle, \
             '' using (at(k)):(100 * (1 - column('demands_deploy_inside_missed'))) with linespoints lw 4 pt 7 ps 1.1 lc rgb '#0072b2' notitle, \
             '' using (at(k)):(100 * (1 - column('demands_stow_on_target_missed'))) with linespoints lw 3 dt 2 pt 9 ps 1.3 lc rgb '#009e73' notitle, \
             '' using (at(k)):(has_keepout ? 100 * column('demands_keepout_entered_missed') : NaN) with linespoints lw 4 pt 5 ps 1.1 lc rgb '#d55e00' notitle, \
             '' using (at(k)):(100 * column('demands_hard_stop_missed')) with linespoints lw 3 dt 3 pt 13 ps 1.4 lc rgb '#000000' notitle, \
             '' using (at(k)):(100 * column('demands_other_fault_missed')) with linespoints lw 2 dt 4 pt 2 ps 1.2 lc rgb '#777777' notitle, \
             '' using (at(k)):(100 * column('demands_below_floor_missed')) with linespoints lw 2 dt 5 pt 4 ps 1.2 lc rgb '#cc79a7' notitle
        shown = shown + 1
        unset label 1; unset label 2; unset label 3; unset label 98; unset label 99
    }
}

# one key below the panels, as wide as the picture
unset label; unset arrow; unset border; unset tics; unset grid; unset xlabel; unset ylabel; unset offsets
set lmargin at screen 0.03; set rmargin at screen 0.97
set tmargin at screen 0.17; set bmargin at screen 0.04
set xrange [0:1]; set yrange [0:1]
set key inside center center horizontal Left reverse samplen 3 width 1 maxcols 4
plot NaN with linespoints lw 4 pt 7 lc rgb '#0072b2' title 'deploys inside', \
     NaN with linespoints lw 3 dt 2 pt 9 lc rgb '#009e73' title 'stows within tolerance', \
     NaN with linespoints lw 4 pt 5 lc rgb '#d55e00' title 'enters a keep-out', \
     NaN with linespoints lw 3 dt 3 pt 13 lc rgb '#000000' title 'meets a hard stop', \
     NaN with linespoints lw 2 dt 4 pt 2 lc rgb '#777777' title 'other fault', \
     NaN with linespoints lw 2 dt 5 pt 4 lc rgb '#cc79a7' title 'below minimum voltage', \
     NaN with lines lw 14 lc rgb '#c8e6c9' title 'meets all demands', \
     NaN with lines lw 2 dt 2 lc rgb '#000000' title 'the setting'
unset multiplot
