# map_line.gp - which outcome from where to where, over one varied key, and where an axis rests.
#
#   slewtime map truck.yaml --vary today.supply.main.voltage=9V:15V --plot line.png
#
# Reads from the current directory
#   spans.csv   from, to, code: one row for each interval and the number of its outcome
#   line.csv    one row for each point, as `slewtime map --csv` writes it: the varied key,
#               rotation_deg, elevation_deg, stowed_rotation_deg, stowed_elevation_deg
# Variables, passed by -e, all but the first optional: those of common.gp, and
#   x_column    the column of line.csv that has the varied key, 'today.supply.main.voltage_V'
#   x_low, x_high, x_name            the varied key, as it is shown: what the files have, times x_scale,
#   x_scale, x_zero                  and x_zero more
#   axis        'elevation' or 'rotation': which is drawn
#   deploys     0: there is no deploy, the axis rests where it is stowed
#   target_low, target_high          where it is to be after the deploy [deg]
#   point_low, point_high            and after the stow [deg]
#   stop_low, stop_high              the hard stops of that axis [deg]
#   own_x       what the scenario itself says: marked
#   present      numbers of the outcomes that the legend has; text_3 and so on, their words, are not
#                optional then
# The picture goes to stdout.

if (!exists("x_column")) { printerr "map_line.gp: the variable x_column is missing: the column of line.csv that has the varied key"; exit status 2 }
if (!exists("heading_1")) heading_1 = 'Which outcome where'
if (!exists("x_name"))    x_name = 'varied key'
if (!exists("axis"))      axis = 'elevation'
if (!exists("deploys"))   deploys = 1
has_target = exists("target_low")
has_point = exists("point_low")
if (!exists("stop_low"))  stop_low = -1e6
if (!exists("stop_high")) stop_high = 1e6
if (!exists("present"))   present = ''
n = words(present)
do for [i = 1 : n] {
    if (!exists('text_'.word(present, i))) { printerr 'map_line.gp: the variable text_'.word(present, i).' is missing: the words of that outcome'; exit status 2 }
}
load system("dirname '".ARG0."'")."/common.gp"

if (!exists("x_scale")) { x_scale = 1; x_zero = 0 }
along(value) = x_scale * value + x_zero
if (!exists("x_low") || !exists("x_high")) { stats 'line.csv' using (along(column(x_column))) nooutput; x_low = STATS_min; x_high = STATS_max }
angle = axis.'_deg'
stowed = 'stowed_'.axis.'_deg'
low = 1e9; high = -1e9
cover(v) = v == v ? (low = v < low ? v : low, high = v > high ? v : high, v) : NaN
stats 'line.csv' using (cover(column(angle)), cover(column(stowed)), 0) nooutput
if (has_target) { low = target_low < low ? target_low : low; high = target_high > high ? target_high : high }
if (has_point) { low = point_low < low ? point_low : low; high = point_high > high ? point_high : high }
span = high > low ? high - low : 1
y_low = low - 0.1 * span; y_high = high + 0.1 * span
# a hard stop near the curve is shown with room below it
beyond = slide ? 0.16 : 0.08
if (stop_low > y_low - 0.1 * span) { y_low = stop_low - beyond * span }
if (stop_high < y_high + 0.1 * span) { y_high = stop_high + beyond * span }
set xrange [x_low : x_high]
set xlabel x_name noenhanced
y_name = axis.' at rest, °'
middle(a, b) = along((column(a) + column(b)) / 2)
tiny = 0.025 * (x_high - x_low)
wide_enough(value) = x_scale * (column('to') - column('from')) > tiny ? value : NaN
code(any) = int(column('code'))

edge = (has_target ? "target_low with lines dt 2 notitle, target_high with lines dt 2 notitle, " : "").(has_point ? "point_low with lines dt 2 notitle, point_high with lines dt 2 notitle, " : "")
if (format eq 'dumb') {
    set title wrap(heading_1, columns - 4)
    set ylabel axis."\nat rest\n°"
    set yrange [y_low - 0.15 * span : y_high + 0.15 * span]
    do for [i = 1 : n] {
        k = int(word(present, i))
        set label i letter_of(k).'  '.value('text_'.k) at screen 0.02, screen 0.02 + 1.0 / lines * (n - i)
    }
    set bmargin n + 4
    set label n + 1 (deploys ? 'D after the deploy   S after the stow' : 'S after the stow') at screen 0.02, screen 0.02 + 1.0 / lines * n
    plot @edge 'line.csv' using (along(column(x_column))):(column(stowed)) with points pt 'S' notitle, \
         'line.csv' using (along(column(x_column))):(deploys && column(angle) != column(stowed) ? column(angle) : NaN) with points pt 'D' notitle, \
         'spans.csv' using (middle('from', 'to')):(y_high + 0.01 * span):(letter_of(code(0))) with labels notitle
    exit
}

set multiplot
set lmargin at screen (slide ? 0.1 : 0.08); set rmargin at screen (slide ? 0.625 : 0.635)
strip = 1.6 * pixels(text_points) / H
bottom = slide ? 0.15 : 0.1

# the legend, right of the strip; a text goes on in a second line where it has to
legend_left = slide ? 0.645 : 0.655
legend_wide = fits(text_points, (0.99 - legend_left - 0.04) * W, 0.59)
row = 1.25 * pixels(text_points) / H
legend_y = room - row
legend_rows = slide && n > 8 ? 8 : n
legend_lines = (exists("own_x") + 1 + deploys)
do for [i = 1 : legend_rows] { legend_lines = legend_lines + lines_of(value('text_'.word(present, i)), legend_wide) }
gap = ((room - 0.03) / row - 1 - legend_lines) / (legend_rows + (exists("own_x") + 1 + deploys))
gap = gap > 0.6 ? 0.6 : gap < 0.05 ? 0.05 : gap
legend(k) = sprintf("set object %d rectangle from screen legend_left, legend_y - 0.6 * row to screen legend_left + 0.03, legend_y + 0.6 * row fc rgb shade(%d) fs solid border lc rgb ink front; set label %d letter_of(%d) at screen legend_left + 0.015, legend_y center font bold tc rgb letter_ink(%d) front; set label %d wrap(value('text_%d'), legend_wide) at screen legend_left + 0.038, legend_y left font text noenhanced; legend_y = legend_y - row * (gap + lines_of(value('text_%d'), legend_wide))", 10 + k, k, 10 + k, k, k, 40 + k, k, k)
do for [i = 1 : legend_rows] { eval legend(int(word(present, i))) }
if (exists("own_x")) {
    set arrow 1 from screen legend_left, legend_y to screen legend_left + 0.03, legend_y nohead @line_wanted front
    set label 71 'this truck' at screen legend_left + 0.038, legend_y left font text
    legend_y = legend_y - (1 + gap) * row
}
points_deployed = "pt 7 ps 1.2 * dot lc rgb ink_elevation"
points_stowed = "pt 8 ps 1.6 * dot lw 1.5 * thick lc rgb ink"
part = "screen legend_left, legend_y - 0.45 * row to screen legend_left + 0.03, legend_y + 0.45 * row"
if (deploys) {
    if (has_target) { set object 72 rectangle from @part @fill_target front }
    set label 72 '' at screen legend_left + 0.015, legend_y point @points_deployed front
    set label 73 'deployed'.(has_target ? ', and target' : '') at screen legend_left + 0.038, legend_y left font text
    legend_y = legend_y - (1 + gap) * row
}
if (has_point) { set object 74 rectangle from @part @fill_point front }
set label 74 '' at screen legend_left + 0.015, legend_y point @points_stowed front
set label 75 'stowed'.(has_point ? ', and stow point' : '') at screen legend_left + 0.038, legend_y left font text

# the intervals, a strip of letters
set tmargin at screen room; set bmargin at screen room - strip
set yrange [0 : 1]
unset ytics; unset xtics; unset grid
unset xlabel
set border 15
plot 'spans.csv' using (middle('from', 'to')):(0.5):(along(column('from'))):(along(column('to'))):(0):(1):(shade_rgb(code(0))) with boxxyerror \
         lc rgb variable fillstyle solid border lc rgb ink notitle, \
     '' using (wide_enough(middle('from', 'to'))):(0.5):(letter_of(code(0))):(letter_ink(code(0))) \
         with labels font bold textcolor rgb variable notitle

# where the axis rests, behind it the same intervals
unset label; unset object; unset arrow 1
set border 3
room = room - strip - 0.3 * pixels(text_points) / H
panel_top = room - 1.7 * pixels(text_points) / H
@name_y; set bmargin at screen bottom
set xlabel x_name noenhanced
set xtics nomirror out font small
set ytics nomirror out font small
set grid ytics lc rgb ink_grid lt 1 lw 1
set yrange [y_low : y_high]
if (has_target) {
    set object 1 rectangle from graph 0, first target_low to graph 1, first target_high behind @fill_target
}
if (has_point) {
    set object 4 rectangle from graph 0, first point_low to graph 1, first point_high behind @fill_point
}
if (stop_low > y_low) {
    set object 2 rectangle from graph 0, first y_low to graph 1, first stop_low front @fill_stop
    set label 2 'hard stop' at graph 0.98, first (y_low + stop_low) / 2 right font text front boxed
}
if (stop_high < y_high) {
    set object 3 rectangle from graph 0, first stop_high to graph 1, first y_high front @fill_stop
    set label 3 'hard stop' at graph 0.98, first (y_high + stop_high) / 2 right font text front boxed
}
if (exists("own_x")) { set arrow 2 from own_x, graph 0 to own_x, graph 1 nohead @line_wanted front }
plot 'spans.csv' using (along(column('from')) > x_low ? along(column('from')) : NaN):(y_low):(0):(y_high - y_low) with vectors nohead lc rgb ink_faint lw 1.5 dt 2 notitle, \
     'line.csv' using (along(column(x_column))):(column(stowed)) with points @points_stowed notitle, \
     'line.csv' using (along(column(x_column))):(deploys && column(angle) != column(stowed) ? column(angle) : NaN) with points @points_deployed notitle
unset multiplot
