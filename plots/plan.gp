# plan.gp - how often each demand is met over the stow point and the deploy seconds.
#
#   slewtime plan truck.yaml --plot plan.png
#
# Reads from the current directory
#   plan.csv  one row for each point of a curve, of `what` (point, seconds) and `axis`, at_deg or at_s,
#             with the shares that miss each demand and whether all are met (demands_meets)
# Variables, passed by -e, all but the first optional: those of common.gp, and
#   panels      how many of the has_ ones below are 1
#   has_point_rotation, has_point_elevation, has_seconds_rotation, has_seconds_elevation
#               1: plan.csv has such a curve
#   chosen_point_rotation, chosen_point_elevation, chosen_seconds_rotation, chosen_seconds_elevation
#               the setting that the others are held at [deg], [s]
#   has_keepout 0: there is no keep-out zone
# The picture goes to stdout.

if (!exists("panels")) { printerr "plan.gp: the variable panels is missing: how many curves there are"; exit status 2 }
if (!exists("heading_1")) heading_1 = 'What is demanded, over the settings'
if (!exists("has_keepout"))           has_keepout = 1
if (!exists("has_point_rotation"))    has_point_rotation = 0
if (!exists("has_point_elevation"))   has_point_elevation = 0
if (!exists("has_seconds_rotation"))  has_seconds_rotation = 0
if (!exists("has_seconds_elevation")) has_seconds_elevation = 0
if (!exists("chosen_point_rotation"))    chosen_point_rotation = NaN
if (!exists("chosen_point_elevation"))   chosen_point_elevation = NaN
if (!exists("chosen_seconds_rotation"))  chosen_seconds_rotation = NaN
if (!exists("chosen_seconds_elevation")) chosen_seconds_elevation = NaN

load system("dirname '".ARG0."'")."/common.gp"

array has[4] = [has_point_rotation, has_point_elevation, has_seconds_rotation, has_seconds_elevation]
array chosen[4] = [chosen_point_rotation, chosen_point_elevation, chosen_seconds_rotation, chosen_seconds_elevation]
array name[4] = ['stow point, rotation, °', 'stow point, elevation, °', 'deploy seconds, rotation, s', 'deploy seconds, elevation, s']
what(k) = k <= 2 ? 'point' : 'seconds'
axis(k) = k % 2 == 1 ? 'rotation' : 'elevation'
here(k) = stringcolumn('what') eq what(k) && stringcolumn('axis') eq axis(k)
at(k) = here(k) ? (k <= 2 ? column('at_deg') : column('at_s')) : NaN
met(k) = here(k) && stringcolumn('demands_meets') eq 'meets'

y_name = 'share of the simulated days, %'
set yrange [-3:103]

if (panels == 0) {
    set label 1 'Nothing can be set: one stow point, one pair of seconds.' at screen 0.03, 0.5 noenhanced font text
    if (format eq 'dumb') { set title wrap(heading_1, columns - 4) }
    unset border; unset tics; unset key
    set xrange [0:1]
    plot NaN notitle
    exit
}
# a slide, and a terminal, have one curve: the deploy seconds if there are any
k = has[4] ? 4 : (has[3] ? 3 : (has[2] ? 2 : 1))

if (format eq 'dumb') {
    set title wrap(heading_1, columns - 4)
    set key outside below
    set xlabel name[k]
    plot 'plan.csv' using (at(k)):(100 * (1 - column('demands_deploy_inside_missed'))) with linespoints title 'deploys inside, %', \
         '' using (at(k)):(100 * (1 - column('demands_stow_on_target_missed'))) with linespoints title 'stows within tolerance, %', \
         '' using (at(k)):(met(k) ? 100 : NaN) with points title 'meets all demands'
    exit
}

if (slide) { do for [i = 1:4] { if (i != k) { has[i] = 0 } }; panels = 1 }
curve_inside = "lw 4 * thick pt 7 ps 1.1 * dot lc rgb ink_elevation"
curve_stows = "lw 3 * thick dt 2 pt 9 ps 1.2 * dot lc rgb role_good"
curve_keepout = "lw 4 * thick dt (12,4) pt 5 ps 1.1 * dot lc rgb role_wrong"
curve_stop = "lw 3 * thick dt 3 pt 13 ps 1.3 * dot lc rgb role_stop"
curve_other = "lw 2 * thick dt 4 pt 2 ps 1.1 * dot lc rgb ink_faint"
curve_floor = "lw 2 * thick dt 5 pt 4 ps 1.1 * dot lc rgb ink_rotation"
set multiplot
@name_y
wide_each = 0.93 / panels
shown = 0
do for [k = 1:4] {
    if (has[k]) {
        set lmargin at screen 0.075 + shown * wide_each
        set rmargin at screen 0.03 + (shown + 1) * wide_each
        set bmargin at screen (slide ? 0.33 : 0.26)
        set xlabel name[k] font (panels > 2 && !slide ? small : text)
        unset arrow
        set arrow 1 from first chosen[k], graph 0 to first chosen[k], graph 1 nohead lw 2.5 * thick dt 2 lc rgb ink back
        set offsets graph 0.04, graph 0.04, 0, 0
        plot 'plan.csv' using (met(k) ? at(k) : NaN):(103) with impulses lw 14 * thick lc rgb role_target notitle, \
             '' using (at(k)):(100 * (1 - column('demands_deploy_inside_missed'))) with linespoints @curve_inside notitle, \
             '' using (at(k)):(100 * (1 - column('demands_stow_on_target_missed'))) with linespoints @curve_stows notitle, \
             '' using (at(k)):(has_keepout ? 100 * column('demands_keepout_entered_missed') : NaN) with linespoints @curve_keepout notitle, \
             '' using (at(k)):(100 * column('demands_hard_stop_missed')) with linespoints @curve_stop notitle, \
             '' using (at(k)):(slide ? NaN : 100 * column('demands_other_fault_missed')) with linespoints @curve_other notitle, \
             '' using (at(k)):(slide ? NaN : 100 * column('demands_below_floor_missed')) with linespoints @curve_floor notitle
        shown = shown + 1
        unset label
    }
}

# one key below the panels, as wide as the picture
unset label; unset arrow; unset border; unset tics; unset grid; unset xlabel; unset ylabel; unset offsets
set lmargin at screen 0.03; set rmargin at screen 0.97
set tmargin at screen (slide ? 0.19 : 0.15); set bmargin at screen 0.03
set xrange [0:1]; set yrange [0:1]
set key inside center center horizontal Left reverse samplen 2.5 width (slide ? 2 : 1) maxcols (slide ? 2 : 4) font small
plot NaN with linespoints @curve_inside title 'deploys inside', \
     NaN with linespoints @curve_stows title 'stows within tolerance', \
     NaN with linespoints @curve_keepout title 'enters a keep-out zone', \
     NaN with linespoints @curve_stop title 'jams on a hard stop', \
     (slide ? 1 / 0 : NaN) with linespoints @curve_other title (slide ? '' : 'another fault'), \
     (slide ? 1 / 0 : NaN) with linespoints @curve_floor title (slide ? '' : 'below minimum voltage'), \
     NaN with lines lw 14 * thick lc rgb role_target title 'meets all demands', \
     NaN with lines lw 2.5 * thick dt 2 lc rgb ink title 'what to set'
unset multiplot
