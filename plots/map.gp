# map.gp - which outcome where, over two varied keys.
#
#   slewtime map truck.yaml --vary stow.point.elevation=-20deg:-10deg \
#       --vary today.supply.main.voltage=9V:15V --plot map.png
#
# Reads from the current directory
#   cells.csv    x, y, code: the middle of each cell and the number of its outcome
#   borders.csv  x, y of both ends of each border, separated by blank lines
#   letters.csv  x, y, code: one for each region that has room for its letter
# Variables, passed by -e, all optional: those of common.gp, and
#   x_low, x_high, x_name, y_low, y_high, y_name    the axes
#   own_x, own_y what the scenario itself says: marked
#   x_stop, y_stop   a hard stop of an axis that varies a stow point
#   present      numbers of the outcomes that the legend has; text_3 and so on, their words, are not
#                optional then
# The picture goes to stdout.

if (!exists("heading_1")) heading_1 = 'Which outcome where'
if (!exists("x_name"))    x_name = 'first key'
if (!exists("y_name"))    y_name = 'second key'
if (!exists("present"))   present = ''
n = words(present)
do for [i = 1 : n] {
    if (!exists('text_'.word(present, i))) { printerr 'map.gp: the variable text_'.word(present, i).' is missing: the words of that outcome'; exit status 2 }
}
y_words = y_name
load system("dirname '".ARG0."'")."/common.gp"

if (!exists("x_low") || !exists("x_high")) { stats 'cells.csv' using 'x' nooutput; x_low = STATS_min; x_high = STATS_max }
if (!exists("y_low") || !exists("y_high")) { stats 'cells.csv' using 'y' nooutput; y_low = STATS_min; y_high = STATS_max }
set xlabel x_name noenhanced
set xrange [x_low : x_high]
set yrange [y_low : y_high]
unset grid

if (format eq 'dumb') {
    set title wrap(heading_1, columns - 4)
    set ylabel brief(y_words, 20)
    do for [i = 1 : n] {
        k = int(word(present, i))
        set label i letter_of(k).'  '.value('text_'.k) at screen 0.02, screen 0.02 + 1.0 / lines * (n - i)
    }
    set bmargin n + 3
    plot 'borders.csv' using 'x':'y' with dots notitle, 'letters.csv' using 'x':'y':(letter_of(int(column('code')))) with labels notitle
    exit
}

y_name = y_words
@name_y; set bmargin at screen (slide ? 0.15 : 0.1)
set lmargin at screen (slide ? 0.1 : 0.08); set rmargin at screen (slide ? 0.625 : 0.635)
set tics front
set border 15
unset colorbox

# the legend, right of the map; a text goes on in a second line where it has to
legend_left = slide ? 0.645 : 0.655
legend_wide = fits(text_points, (0.99 - legend_left - 0.04) * W, 0.59)
row = 1.25 * pixels(text_points) / H
legend_y = room - row
legend_rows = slide && n > 8 ? 8 : n
legend_lines = (exists("own_x") + (exists("x_stop") || exists("y_stop")))
do for [i = 1 : legend_rows] { legend_lines = legend_lines + lines_of(value('text_'.word(present, i)), legend_wide) }
gap = ((room - 0.03) / row - 1 - legend_lines) / (legend_rows + (exists("own_x") + (exists("x_stop") || exists("y_stop"))))
gap = gap > 0.6 ? 0.6 : gap < 0.05 ? 0.05 : gap
legend(k) = sprintf("set object %d rectangle from screen legend_left, legend_y - 0.6 * row to screen legend_left + 0.03, legend_y + 0.6 * row fc rgb shade(%d) fs solid border lc rgb ink front; set label %d letter_of(%d) at screen legend_left + 0.015, legend_y center font bold tc rgb letter_ink(%d) front; set label %d wrap(value('text_%d'), legend_wide) at screen legend_left + 0.038, legend_y left font text noenhanced; legend_y = legend_y - row * (gap + lines_of(value('text_%d'), legend_wide))", 10 + k, k, 10 + k, k, k, 40 + k, k, k)
do for [i = 1 : legend_rows] { eval legend(int(word(present, i))) }
if (exists("own_x") && exists("own_y")) {
    set label 70 '' at screen legend_left + 0.015, legend_y point pt 7 ps 2.2 * dot lc rgb ink front
    set label 71 'this truck' at screen legend_left + 0.038, legend_y left font text
    legend_y = legend_y - (1 + gap) * row
} else {
    own_x = NaN; own_y = NaN
}
if (exists("x_stop")) { set arrow 1 from first x_stop, graph 0 to first x_stop, graph 1 nohead lc rgb role_stop lw 8 * thick front }
if (exists("y_stop")) { set arrow 2 from graph 0, first y_stop to graph 1, first y_stop nohead lc rgb role_stop lw 8 * thick front }
if (exists("x_stop") || exists("y_stop")) {
    set arrow 3 from screen legend_left, legend_y to screen legend_left + 0.03, legend_y nohead lc rgb role_stop lw 8 * thick front
    set label 72 'hard stop' at screen legend_left + 0.038, legend_y left font text
}

part(shift) = int(shade_rgb(int(column('code'))) / shift) % 256
plot 'cells.csv' using 'x':'y':(part(65536)):(part(256)):(part(1)) with rgbimage notitle, \
     'borders.csv' using 'x':'y' with lines lc rgb ink lw 2 notitle, \
     'letters.csv' using 'x':'y':(letter_of(int(column('code')))):(letter_ink(int(column('code')))) with labels font sprintf('DejaVu Sans:Bold,%g', 1.4 * text_points) \
         textcolor rgb variable notitle, \
     '+' using (own_x):(own_y) every ::0::0 with points pt 7 ps 3.4 * dot lc rgb paper notitle, \
     '+' using (own_x):(own_y) every ::0::0 with points pt 7 ps 2.2 * dot lc rgb ink notitle
