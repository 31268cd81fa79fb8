# fit.gp - how the readings of a fit are met: measured against simulated, and how far each is off.
#
#   slewtime fit truck.yaml times.csv --key elevation.gear.efficiency --csv > fit.csv
#   gnuplot -e "format='png'" fit.gp > fit.png
#
# Reads from the current directory
#   fit.csv     one row for each reading, as `slewtime fit --csv` writes it: line (of the timings),
#               measure (seconds, voltage, current), measured, sd, simulated, off_sd, weight
# Variables, passed by -e, all optional: those of common.gp
# The picture goes to stdout.

if (!exists("heading_1")) heading_1 = 'The readings, measured and simulated'
load system("dirname '".ARG0."'")."/common.gp"

# a column of the readings of one measure, and of those that do not count
of(name, measure) = stringcolumn('measure') eq measure ? column(name) : NaN
dropped(name, measure) = stringcolumn('measure') eq measure && column('weight') < 0.5 ? column(name) : NaN
any_dropped(name) = column('weight') < 0.5 ? column(name) : NaN
# the readings of one row side by side
place(x) = column('line') + (stringcolumn('measure') eq 'seconds' ? -0.25 : stringcolumn('measure') eq 'voltage' ? 0 : 0.25)
measure(k) = word('seconds voltage current', k + 1)
called(k) = word('"seconds" "volts" "amps"', k + 1)
mark(k) = int(word('7 8 4', k + 1))
tint(k) = word(ink_elevation.' '.ink_rotation.' '.ink, k + 1)
stats 'fit.csv' using 'line' nooutput name 'line'
stats 'fit.csv' using 'off_sd' nooutput name 'off'
stats 'fit.csv' using 'weight' nooutput name 'weight'
any_left_out = weight_min < 0.5
low = off_min - 1.5 < -3.5 ? off_min - 1.5 : -3.5
high = off_max + 1.5 > 3.5 ? off_max + 1.5 : 3.5
array count[3]; array least[3]; array most[3]
measures = 0
do for [k = 0:2] {
    count[k + 1] = 0; least[k + 1] = 1e9; most[k + 1] = -1e9
    note(v) = v == v ? (count[k + 1] = count[k + 1] + 1, least[k + 1] = v < least[k + 1] ? v : least[k + 1], most[k + 1] = v > most[k + 1] ? v : most[k + 1], v) : 0
    stats 'fit.csv' using (note(of('measured', measure(k)))) nooutput
    stats 'fit.csv' using (note(of('simulated', measure(k)))) nooutput
    measures = measures + (count[k + 1] > 0)
}

if (format eq 'dumb') {
    set title wrap(heading_1, columns - 4)
    set key outside below
    set xlabel 'line of the file of readings'
    set ylabel "off"
    set xrange [line_min - 1 : line_max + 1]
    plot for [k = 0:2] 'fit.csv' using (place(0)):(of('off_sd', measure(k))) with points title called(k), \
         0 with lines notitle
    exit
}

set multiplot
# measured against simulated, a panel for each unit; a slide has only how far off the readings are
shown = 0
tall = (room - 0.17) / (measures > 0 ? measures : 1)
do for [k = 0:2] {
    if (count[k + 1] > 0 && !slide) {
        set lmargin at screen 0.085; set rmargin at screen 0.40
        set tmargin at screen room - 0.035 - shown * tall
        set bmargin at screen room + 0.045 - (shown + 1) * tall
        pad = most[k + 1] > least[k + 1] ? 0.12 * (most[k + 1] - least[k + 1]) : 1
        set xrange [least[k + 1] - pad : most[k + 1] + pad]; set yrange [least[k + 1] - pad : most[k + 1] + pad]
        set xtics tic_step(1.24 * (most[k + 1] - least[k + 1])); set ytics tic_step(1.24 * (most[k + 1] - least[k + 1]))
        set label 3 called(k).': measured (up) against simulated (across)' at graph 0, graph 1 left offset 0,0.6 font (measures > 1 ? small : text)
        plot x with lines lw 2 lc rgb ink_faint, \
             'fit.csv' using (of('simulated', measure(k))):'measured':'sd' with yerrorbars pt mark(k) ps 1.4 * dot lw 2 lc rgb tint(k), \
             '' using (dropped('simulated', measure(k))):'measured' with points pt 2 ps 2.6 * dot lw 3 lc rgb ink
        unset label
        shown = shown + 1
    }
}

# how far off, in standard deviations
set ytics autofreq
set lmargin at screen (slide ? 0.09 : 0.47); set rmargin at screen 0.98
if (!slide) { set tmargin at screen room - 0.035; set bmargin at screen room + 0.045 - tall * (measures > 0 ? measures : 1)
} else { set bmargin at screen 0.30 }
y_name = 'measured less simulated, in uncertainties of the reading'
if (slide) { @name_y } else { set label 3 y_name at graph 0, graph 1 left offset 0,0.6 font small }
set xlabel 'line of the file of readings'
set xrange [line_min - 0.7 : line_max + 0.7]
set yrange [low : high]
set object 1 rectangle from graph 0, first -2 to graph 1, first 2 behind fc rgb role_target fillstyle solid 0.6 noborder
set object 2 rectangle from graph 0, first -1 to graph 1, first 1 behind fc rgb role_target fillstyle solid noborder
span = line_max - line_min
set xtics span <= (slide ? 14 : 24) ? 1 : span <= 60 ? 5 : 20
plot 0 with lines lw 2 lc rgb ink_faint, \
     for [k = 0:2] 'fit.csv' using (place(0)):(of('off_sd', measure(k))):(1) \
         with yerrorbars pt mark(k) ps 1.4 * dot lw 2 * thick lc rgb tint(k), \
     '' using (place(0)):(any_dropped('off_sd')) with points pt 2 ps 2.6 * dot lw 3 lc rgb ink

# one key below both panels
unset label; unset object; unset border; unset tics; unset grid; unset xlabel; unset ylabel
set lmargin at screen 0.03; set rmargin at screen (slide ? 0.97 : 0.9)
set tmargin at screen 0.11; set bmargin at screen 0.03
set xrange [0:1]; set yrange [0:1]
set key inside center center horizontal Left reverse samplen 1.5 width 0 maxrows (slide ? 2 : 1) font small
plot for [k = 0:2] (count[k + 1] > 0 ? NaN : 1 / 0) with points pt mark(k) ps 1.4 * dot lw 2 lc rgb tint(k) title (count[k + 1] > 0 ? called(k) : ''), \
     (any_left_out ? NaN : 1 / 0) with points pt 2 ps 2.4 * dot lw 3 lc rgb ink title (any_left_out ? 'not counted' : ''), \
     NaN with boxes fillstyle solid fc rgb role_target title 'within its uncertainty'
unset multiplot
