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
# Variables, passed by -e, all optional: those of common.gp; the page is 1240 x 1754 (21 x 29.7 cm), a
# slide has the first figure of each step, eight at most
#   heading     which scenario
#   origin      where the figures come from, small at the bottom
# The page goes to stdout.

if (!exists("heading")) heading = ''
heading_1 = exists("slide") && slide ? 'What this truck should read when it is healthy' : ''
sheet_width = 1240
sheet_height = 1754
load system("dirname '".ARG0."'")."/common.gp"

# what_at, read_at ...: by its number alone gnuplot takes a text with a comma whole
do for [i = 1:7] { stats 'card.csv' using (head = columnhead(i), 0) nooutput; eval head.'_at = '.i }
stats 'card.csv' using 'kind' nooutput name 'table'

if (slide) {
    set multiplot
    unset border; unset tics; unset grid
    set lmargin at screen 24.0 / W; set rmargin at screen 0.985
    set tmargin at screen room - 1.6 * pixels(text_points) / H; set bmargin at screen 0.04
    set xrange [0:100]; set yrange [8.6:0.4]
    count = 0
    # the first figure of each step, one below the other
    is_first(value) = stringcolumn('first') eq 'true' && column('kind') == 2 ? value : NaN
    next(value) = is_first(1) == 1 && count < 8 ? (count = count + 1, count) : NaN
    set label 1 'what to do' at graph 0, graph 1.04 left font bold
    set label 2 'read' at graph 0.44, graph 1.04 left font bold
    set label 3 'expected' at graph 0.78, graph 1.04 right font bold
    set label 4 'band' at graph 1, graph 1.04 right font bold
    do for [r = 0:8] { set arrow 1 + r from graph 0, first r + 0.5 to graph 1, first r + 0.5 nohead lc rgb ink_grid lw 1.5 }
    plot count = 0, 'card.csv' using (0):(next(0)):what_at with labels left noenhanced font text, \
         count = 0, '' using (44):(next(0)):read_at with labels left noenhanced font text, \
         count = 0, '' using (78):(next(0)):expected_at with labels right noenhanced font text, \
         count = 0, '' using (100):(next(0)):(stringcolumn(from_at).' to '.stringcolumn(to_at)) with labels right noenhanced font text
    exit
}
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
small_page = page > 82 ? 82.0/page : 1
if (format eq 'png') set terminal pngcairo size W,H font 'DejaVu Sans,13' fontscale small_page background rgb paper
if (format eq 'svg') set terminal svg size W,H dynamic font 'DejaVu Sans,13' fontscale 1.333 * small_page background rgb paper
if (format eq 'pdf') set terminal pdfcairo size 21cm,29.7cm font 'DejaVu Sans,13' fontscale 0.523 * small_page background rgb paper
unset label; unset grid
if (format eq 'dumb') set terminal dumb size columns, int(page) + 1

unset border; unset tics
set key noautotitle; unset key
set lmargin at screen 0.05; set rmargin at screen 0.95
set tmargin at screen 0.975; set bmargin at screen 0.015
if (format eq 'dumb') { set tmargin 0; set bmargin 0 }
set xrange [0:100]; set yrange [page:0]

y(row) = rows + line * row + 0.5 * line
number(value) = column('kind') == 2 ? value : NaN

set label 1 'Check card' at 0, 1.2 left font 'DejaVu Sans,26'
set label 2 heading at 0, 3.4 left noenhanced font sprintf('DejaVu Sans,%.1f', 15.0 * (strlen(heading) > 105 ? 105.0/strlen(heading) : 1))
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
set label 13 origin at 100, page - 0.6 right noenhanced font 'DejaVu Sans,9.5'

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
set object 1 rectangle from 0, top - 0.9 to 100, top + cautions_records - 0.1 fillstyle empty border lc rgb ink lw 2
# the table
set object 2 rectangle from 0, head to 100, rows behind fc rgb ink_grid fillstyle solid border lc rgb ink
set object 3 rectangle from 0, rows to 100, bottom fillstyle empty border lc rgb ink lw 1.5
set arrow from 80, head to 80, bottom nohead lw 1

plot 'card.csv' using (0):(y($0) - 0.5 * line):(100):(stringcolumn('first') eq 'true' ? 0 : NaN) with vectors nohead lw 1 lc rgb ink, \
     '' using (80):(column('kind') > 0 ? y($0) - 0.5 * line : NaN):(20):(0) with vectors nohead lw 0.6 lc rgb ink_faint, \
     '' using (0.6):(y($0)):what_at with labels left noenhanced, \
     '' using (32):(y($0)):read_at with labels left noenhanced, \
     '' using (column('kind') == 2 ? 59 : 78):(y($0)):expected_at with labels right noenhanced, \
     '' using (number(68.5)):(y($0)):from_at with labels right noenhanced, \
     '' using (number(70.3)):(y($0)):('to') with labels center noenhanced, \
     '' using (number(78)):(y($0)):to_at with labels right noenhanced, \
     'cautions.csv' using (1):(top + $0):1 with labels left noenhanced, \
     'notes.csv' using (1):(how + $0):1 with labels left noenhanced
