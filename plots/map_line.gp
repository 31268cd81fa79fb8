# map_line.gp - which outcome from where to where, over one varied key, and where the axes rest.
#
#   slewtime map truck.yaml --vary today.supply.main.voltage=9V:15V --plot line.png
#
# Reads from the current directory
#   spans.csv   from, to, code: one row for each interval and the number of its outcome
#   line.csv    one row for each point, as `slewtime map --csv` writes it: the varied key,
#               rotation_deg, elevation_deg
# Variables, passed by -e, all but the first optional
#   x_column    the column of line.csv that has the varied key, 'today.supply.main.voltage_V'
#   format      'png' (1600 x 1000), 'svg', 'pdf', or 'dumb' for a terminal of columns x lines
#   x_low, x_high, x_name            the varied key
#   own_x       what the scenario itself says: marked
#   present     numbers of the outcomes that the legend has; text_3 and so on, their words, are not
#               optional then
#   heading_1, heading_2             what was found, and on what truck
#   origin                           which scenario and samples, small in the corner
#   caution                          what can be struck, in the corner above
# The picture goes to stdout.

if (!exists("x_column")) { printerr "map_line.gp: the variable x_column is missing: the column of line.csv that has the varied key"; exit status 2 }
if (!exists("format"))    format = 'png'
if (!exists("columns"))   columns = 100
if (!exists("lines"))     lines = 30
if (!exists("heading_1")) heading_1 = 'Which outcome where'
if (!exists("heading_2")) heading_2 = ''
if (!exists("origin"))    origin = ''
if (!exists("x_name"))    x_name = 'varied key'
if (!exists("present"))   present = ''
n = words(present)
do for [i = 1 : n] {
    if (!exists('text_'.word(present, i))) { printerr 'map_line.gp: the variable text_'.word(present, i).' is missing: the words of that outcome'; exit status 2 }
}

set encoding utf8
set datafile separator comma
set datafile columnheaders
if (!exists("x_low") || !exists("x_high")) { stats 'line.csv' using (column(x_column)) nooutput; x_low = STATS_min; x_high = STATS_max }

# one shade for each outcome, in the order of their numbers, as in map.gp
red   = '255 214 250 235 230 120 150  60 190  90 100 170 140 200 170'
green = '255 232 232 205 150 160 110  10  90  70  80 120 140 200 170'
blue  = '255 244 150 110  20  60 160  20 130 110 160  60 140 200 170'
dark  = '  0   0   0   0   0   0   1   1   1   1   1   1   1   0   0'
rgb(k) = int(word(red, k + 1)) * 65536 + int(word(green, k + 1)) * 256 + int(word(blue, k + 1))
shade(k) = sprintf('#%06x', rgb(k))
ink(k) = word(dark, int(k) + 1) + 0 ? 0xffffff : 0x000000
letter(k) = substr('ABCDEFGHIJKLMNP', k + 1, k + 1)

if (format eq 'png') set terminal pngcairo size 1600,1000 font 'sans,20' background 'white'
if (format eq 'svg') set terminal svg size 1600,1000 font 'sans,20' background 'white'
if (format eq 'pdf') set terminal pdfcairo size 32cm,20cm font 'sans,16' background 'white'
if (format eq 'dumb') set terminal dumb size columns, lines

set xrange [x_low : x_high]
set xlabel x_name noenhanced
set tics out nomirror front
unset key

if (format eq 'dumb') {
    set title heading_1 noenhanced
    set ylabel 'elevation at rest, deg'
    plot 'line.csv' using (column(x_column)):'elevation_deg' with points
    exit
}

set multiplot
set label 1 heading_1 at screen 0.03, 0.955 left font ',24' noenhanced
set label 2 heading_2 at screen 0.03, 0.905 left font ',18' noenhanced textcolor rgb '#444444'
set label 99 origin at screen 0.985, 0.018 right font ',14' noenhanced textcolor rgb '#444444'
if (exists("caution")) { set label 98 caution at screen 0.985, 0.984 right font ',12' noenhanced textcolor rgb '#a03000' }
do for [i = 1 : n] {
    k = int(word(present, i))
    y = 0.83 - 0.058 * (i - 1)
    set object (10 + i) rectangle from screen 0.64, y - 0.02 to screen 0.675, y + 0.02 \
        fillcolor rgb shade(k) fillstyle solid border lc rgb '#000000' front
    set label (10 + i) letter(k) at screen 0.6575, y center font ',20' textcolor rgb ink(k) front
    set label (40 + i) value('text_'.k) at screen 0.684, y left font ',16' noenhanced
}
if (exists("own_x")) {
    y = 0.83 - 0.058 * n
    set arrow 1 from screen 0.64, y to screen 0.675, y nohead dt 2 lw 3 front
    set label 71 'this scenario' at screen 0.684, y left font ',16'
    set arrow 2 from own_x, graph 0 to own_x, graph 1 nohead dt 2 lw 3 front
}
set lmargin at screen 0.09; set rmargin at screen 0.62

# the intervals
set tmargin at screen 0.86; set bmargin at screen 0.68
set yrange [0 : 1]
unset ytics
set format x ''
unset xlabel
tiny = 0.02 * (x_high - x_low)
middle(a, b) = (a + b) / 2
plot 'spans.csv' using (middle(column('from'), column('to'))):(0.5):'from':'to':(0):(1):(rgb(int(column('code')))) with boxxyerror \
         lc rgb variable fillstyle solid border lc rgb '#000000' notitle, \
     '' using (column('to') - column('from') > tiny ? middle(column('from'), column('to')) : NaN):(0.5):(letter(int(column('code')))):(ink(column('code'))) \
         with labels font ',30' textcolor rgb variable notitle

# where the axes rest
unset label; unset object; unset arrow 1
set tmargin at screen 0.66; set bmargin at screen 0.12
set xlabel x_name noenhanced
set format x '% h'
set ytics nomirror
set yrange [* : *]
set offsets 0, 0, graph 0.08, graph 0.08
set ylabel 'at rest, deg'
set grid ytics lc rgb '#dddddd'
set key at screen 0.64, 0.4 left Left reverse samplen 2
plot 'line.csv' using (column(x_column)):'elevation_deg' with linespoints lc rgb '#0072b2' lw 3 pt 7 ps 0.6 title 'elevation', \
     '' using (column(x_column)):'rotation_deg' with lines lc rgb '#000000' lw 3 dt 3 title 'rotation'
unset multiplot
