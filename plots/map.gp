# map.gp - which outcome where, over two varied keys.
#
#   slewtime map truck.yaml --vary stow.point.elevation=-20deg:-10deg \
#       --vary today.supply.main.voltage=9V:15V --plot map.png
#
# Reads from the current directory
#   cells.csv    x, y, code: the middle of each cell and the number of its outcome
#   borders.csv  x, y of both ends of each border, separated by blank lines
#   letters.csv  x, y, code: one for each region that has room for its letter
# Variables, passed by -e, all optional
#   format       'png' (1600 x 1000), 'svg', 'pdf', or 'dumb' for a terminal of columns x lines
#   x_low, x_high, x_name, y_low, y_high, y_name    the axes
#   own_x, own_y what the scenario itself says: marked
#   present      numbers of the outcomes that the legend has; text_3 and so on, their words, are not
#                optional then
#   heading_1, heading_2             what was found, and on what truck
#   origin                           which scenario and samples, small in the corner
#   caution                          what can be struck, in the corner above
# The picture goes to stdout.

if (!exists("format"))    format = 'png'
if (!exists("columns"))   columns = 100
if (!exists("lines"))     lines = 30
if (!exists("heading_1")) heading_1 = 'Which outcome where'
if (!exists("heading_2")) heading_2 = ''
if (!exists("origin"))    origin = ''
if (!exists("x_name"))    x_name = 'first key'
if (!exists("y_name"))    y_name = 'second key'
if (!exists("present"))   present = ''
n = words(present)
do for [i = 1 : n] {
    if (!exists('text_'.word(present, i))) { printerr 'map.gp: the variable text_'.word(present, i).' is missing: the words of that outcome'; exit status 2 }
}

set encoding utf8
set datafile separator comma
set datafile columnheaders
if (!exists("x_low") || !exists("x_high")) { stats 'cells.csv' using 'x' nooutput; x_low = STATS_min; x_high = STATS_max }
if (!exists("y_low") || !exists("y_high")) { stats 'cells.csv' using 'y' nooutput; y_low = STATS_min; y_high = STATS_max }

# one shade for each outcome, in the order of their numbers: from light to dark as it gets worse
red   = '255 214 250 235 230 120 150  60 190  90 100 170 140 200 170'
green = '255 232 232 205 150 160 110  10  90  70  80 120 140 200 170'
blue  = '255 244 150 110  20  60 160  20 130 110 160  60 140 200 170'
dark  = '  0   0   0   0   0   0   1   1   1   1   1   1   1   0   0'
shade(k) = sprintf('#%02x%02x%02x', int(word(red, k + 1)), int(word(green, k + 1)), int(word(blue, k + 1)))
ink(k) = word(dark, int(k) + 1) + 0 ? 0xffffff : 0x000000
letter(k) = substr('ABCDEFGHIJKLMNP', k + 1, k + 1)

if (format eq 'png') set terminal pngcairo size 1600,1000 font 'sans,20' background 'white'
if (format eq 'svg') set terminal svg size 1600,1000 font 'sans,20' background 'white'
if (format eq 'pdf') set terminal pdfcairo size 32cm,20cm font 'sans,16' background 'white'
if (format eq 'dumb') set terminal dumb size columns, lines

set label 1 heading_1 at screen 0.03, 0.955 left font ',24' noenhanced
set label 2 heading_2 at screen 0.03, 0.905 left font ',18' noenhanced textcolor rgb '#444444'
set label 99 origin at screen 0.985, 0.018 right font ',14' noenhanced textcolor rgb '#444444'
if (exists("caution")) { set label 98 caution at screen 0.985, 0.984 right font ',12' noenhanced textcolor rgb '#a03000' }
set lmargin at screen 0.09; set rmargin at screen 0.62
set tmargin at screen 0.86; set bmargin at screen 0.12
set xlabel x_name noenhanced
set ylabel y_name noenhanced
set xrange [x_low : x_high]
set yrange [y_low : y_high]
set tics out nomirror front
set border 15 lw 2
unset key
unset colorbox

# the legend, right of the map
do for [i = 1 : n] {
    k = int(word(present, i))
    y = 0.83 - 0.058 * (i - 1)
    set object (10 + i) rectangle from screen 0.64, y - 0.02 to screen 0.675, y + 0.02 \
        fillcolor rgb shade(k) fillstyle solid border lc rgb '#000000' front
    set label (10 + i) letter(k) at screen 0.6575, y center font ',20' textcolor rgb ink(k) front
    set label (40 + i) value('text_'.k) at screen 0.684, y left font ',16' noenhanced
}
own = exists("own_x") && exists("own_y")
if (own) {
    y = 0.83 - 0.058 * n
    set label 70 '' at screen 0.6575, y point pt 7 ps 2.2 lc rgb '#000000' front
    set label 71 'this scenario' at screen 0.684, y left font ',16'
}
if (!own) { own_x = NaN; own_y = NaN }

if (format eq 'dumb') {
    unset label; unset object; unset lmargin; unset rmargin; unset tmargin; unset bmargin
    set title heading_1 noenhanced
    do for [i = 1 : n] {
        k = int(word(present, i))
        set label i letter(k).'  '.value('text_'.k) at screen 0.02, screen 0.02 + 0.035 * (n - i) noenhanced
    }
    set bmargin n + 4
    plot 'borders.csv' using 'x':'y' with dots, 'letters.csv' using 'x':'y':(letter(int(column('code')))) with labels
    exit
}

part(of) = word(of, int(column('code')) + 1) + 0
plot 'cells.csv' using 'x':'y':(part(red)):(part(green)):(part(blue)) with rgbimage notitle, \
     'borders.csv' using 'x':'y' with lines lc rgb '#000000' lw 2 notitle, \
     'letters.csv' using 'x':'y':(letter(int(column('code')))):(ink(column('code'))) with labels font ',30' \
         textcolor rgb variable notitle, \
     '+' using (own_x):(own_y) every ::0::0 with points pt 7 ps 3.4 lc rgb '#ffffff' notitle, \
     '+' using (own_x):(own_y) every ::0::0 with points pt 7 ps 2.4 lc rgb '#000000' notitle
