# card.gp - a check card for a visit to the truck: one A4 page to print and write on.
#
#   slewtime card truck.yaml --plot card.pdf
#
# Reads from the current directory
#   card.csv      first, kind, what, read, expected, from, to: one row for each line of the table;
#                 first is true where a step begins; kind is 2 for a number with a band, 1 for a
#                 verdict, 0 where there is nothing to write
#   cautions.csv  text: lines above the table, in a box
#   notes.csv     text: lines above the table, how to read it
# Variables, passed by -e, all optional
#   format      'png' (1240 x 1754), 'svg', 'pdf' (21 x 29.7 cm), or 'dumb' for a terminal of columns
#   heading     which scenario
#   origin      where the figures come from, small at the bottom
# The page goes to stdout.

if (!exists("format"))  format = 'png'
if (!exists("columns")) columns = 100
if (!exists("heading")) heading = ''
if (!exists("origin"))  origin = ''

set encoding utf8
set datafile separator comma
set datafile columnheaders
# what_at, read_at ...: by its number alone gnuplot takes a text with a comma whole
do for [i = 1:7] { stats 'card.csv' using (head = columnhead(i), 0) nooutput; eval head.'_at = '.i }
stats 'card.csv' using 'kind' nooutput name 'table'
stats 'cautions.csv' using (1) nooutput name 'cautions'
stats 'notes.csv' using (1) nooutput name 'notes'

# lines from the top of the page; those of the table are higher, to write in
line = format eq 'dumb' ? 1 : 1.3
top = 9.7
how = top + cautions_records + 1.6
head = how + notes_records + 1.4
rows = head + 1.6
bottom = rows + line * table_records
page = ceil(bottom + 2.2)

# a page that holds more is written smaller
small = page > 82 ? 82.0/page : 1
if (format eq 'png') set terminal pngcairo size 1240,1754 font 'sans,13' fontscale small background 'white'
if (format eq 'svg') set terminal svg size 1240,1754 font 'sans,17' fontscale small background 'white'
if (format eq 'pdf') set terminal pdfcairo size 21cm,29.7cm font 'sans,6.8' fontscale small background 'white'
if (format eq 'dumb') set terminal dumb size columns, int(page) + 1

unset border; unset tics
set key noautotitle; unset key
set lmargin at screen 0.05; set rmargin at screen 0.95
set tmargin at screen 0.975; set bmargin at screen 0.015
if (format eq 'dumb') { set tmargin 0; set bmargin 0 }
set xrange [0:100]; set yrange [page:0]

y(row) = rows + line * row + 0.5 * line
number(value) = column('kind') == 2 ? value : NaN

set label 1 'Check card' at 0, 1.2 left font (format eq 'pdf' ? ',13.5' : format eq 'svg' ? ',34' : ',26')
set label 2 heading at 0, 3.4 left noenhanced font sprintf(',%.1f', (format eq 'pdf' ? 8.0 : format eq 'svg' ? 20.0 : 15.0) * (strlen(heading) > 105 ? 105.0/strlen(heading) : 1))
set label 3 'truck, monitor' at 0, 5.6 left
set label 4 'date' at 55, 5.6 left
set label 5 'by' at 76, 5.6 left
set label 6 'weather, temperature' at 0, 7.4 left
set label 7 'supply voltage at the source, V' at 55, 7.4 left
set label 8 'what to do' at 0.6, head + 0.8 left
set label 9 'read' at 32, head + 0.8 left
set label 10 'expected' at 59, head + 0.8 right
set label 11 'band from - to' at 78, head + 0.8 right
set label 12 'write here' at 90, head + 0.8 center
set label 13 origin at 100, page - 0.6 right noenhanced font (format eq 'pdf' ? ',5' : format eq 'svg' ? ',12' : ',9.5')

if (format eq 'dumb') {
    plot 'card.csv' using (1):(y($0)):what_at with labels left noenhanced, \
         '' using (35):(y($0)):read_at with labels left noenhanced, \
         '' using (column('kind') == 2 ? 59 : 78):(y($0)):expected_at with labels right noenhanced, \
         '' using (number(67)):(y($0)):from_at with labels right noenhanced, \
         '' using (number(69)):(y($0)):('to') with labels left noenhanced, \
         '' using (number(78)):(y($0)):to_at with labels right noenhanced, \
         'cautions.csv' using (1):(top + $0):1 with labels left noenhanced, \
         'notes.csv' using (1):(how + $0):1 with labels left noenhanced
    exit
}

# lines to write on
set arrow from 14, 6.0 to 53, 6.0 nohead lw 0.8
set arrow from 59, 6.0 to 74, 6.0 nohead lw 0.8
set arrow from 79, 6.0 to 100, 6.0 nohead lw 0.8
set arrow from 19, 7.8 to 53, 7.8 nohead lw 0.8
set arrow from 81, 7.8 to 100, 7.8 nohead lw 0.8
# the cautions in a box
set object 1 rectangle from 0, top - 0.9 to 100, top + cautions_records - 0.1 fillstyle empty border lc rgb 'black' lw 2
# the table
set object 2 rectangle from 0, head to 100, rows behind fc rgb '#e4e4e4' fillstyle solid border lc rgb 'black'
set object 3 rectangle from 0, rows to 100, bottom fillstyle empty border lc rgb 'black' lw 1.5
set arrow from 80, head to 80, bottom nohead lw 1

plot 'card.csv' using (0):(y($0) - 0.5 * line):(100):(stringcolumn('first') eq 'true' ? 0 : NaN) with vectors nohead lw 1 lc rgb 'black', \
     '' using (80):(column('kind') > 0 ? y($0) - 0.5 * line : NaN):(20):(0) with vectors nohead lw 0.6 lc rgb '#888888', \
     '' using (0.6):(y($0)):what_at with labels left noenhanced, \
     '' using (32):(y($0)):read_at with labels left noenhanced, \
     '' using (column('kind') == 2 ? 59 : 78):(y($0)):expected_at with labels right noenhanced, \
     '' using (number(68.5)):(y($0)):from_at with labels right noenhanced, \
     '' using (number(70.3)):(y($0)):('to') with labels center noenhanced, \
     '' using (number(78)):(y($0)):to_at with labels right noenhanced, \
     'cautions.csv' using (1):(top + $0):1 with labels left noenhanced, \
     'notes.csv' using (1):(how + $0):1 with labels left noenhanced
