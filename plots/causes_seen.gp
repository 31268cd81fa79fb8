# causes_seen.gp - which causes agree with what was seen, and which check tells the rest apart.
#
#   slewtime causes truck.yaml --seen seen.yaml --plot ranking.png
#
# Reads from the current directory
#   ranking.csv  the causes, likeliest first, as `slewtime causes --seen --csv` writes them: rank,
#                name, share of belief, fit_p, the p of its fit, of the candidates alone
#   next.csv     what tells them apart, the best first, as the list "next" of --json has it:
#                observable, bits that it tells on average
# Variables, passed by -e, all but the first optional
#   least_fit    p of a fit below which a cause does not fit
#   format       'png' (1600 x 900), 'svg', 'pdf', or 'dumb' for a terminal of columns x lines
#   rows         how many candidates there are
#   next_rows    how many rows of next.csv are shown
#   doubt        bits of doubt that are left
#   heading_1, heading_2             what was found, and on what truck
#   origin                           which scenario and samples, small in the corner
# The picture goes to stdout.

if (!exists("least_fit")) { printerr "causes_seen.gp: the variable least_fit is missing: the p below which a cause does not fit, 0.01"; exit status 2 }
if (!exists("format"))    format = 'png'
if (!exists("columns"))   columns = 100
if (!exists("lines"))     lines = 24
if (!exists("heading_1")) heading_1 = 'Which causes agree with what was seen'
if (!exists("heading_2")) heading_2 = ''
if (!exists("origin"))    origin = ''
if (!exists("next_rows")) next_rows = 0

set encoding utf8
set datafile separator comma
set datafile columnheaders
if (!exists("rows")) { stats 'ranking.csv' using 'fit_p' nooutput; rows = int(STATS_records) }

# name_at: by its number alone gnuplot takes a name with a comma whole
do for [i = 1:2] { stats 'ranking.csv' using (head = columnhead(i), 0) nooutput; eval head.'_at = '.i }

# rows count from the top
row(shift) = column(0) + 1 + shift
percent(shift) = 100 * column('share') + shift

if (format eq 'png') set terminal pngcairo size 1600,900 font 'sans,20' background 'white'
if (format eq 'svg') set terminal svg size 1600,900 font 'sans,20' background 'white'
if (format eq 'pdf') set terminal pdfcairo size 32cm,18cm font 'sans,16' background 'white'
if (format eq 'dumb') set terminal dumb size columns, lines

most = rows > 6 ? rows : 6
set yrange [most + 0.6 : 0.4]
set key noautotitle; unset key
set tics nomirror
set style fill solid 0.7 border lc rgb '#000000'

if (format eq 'dumb') {
    set title heading_1 noenhanced
    set yrange [rows + 0.6 : 0.4]
    set xrange [0 : 100]
    set xlabel 'share of belief, %'
    plot 'ranking.csv' every ::::rows - 1 using (percent(0)):(row(0)):yticlabels(name_at) with impulses, \
         '' every ::::rows - 1 using (percent(0)):(row(0)) with points pt 7
    exit
}

set multiplot
set label 1 heading_1 at screen 0.02, 0.95 left font ',24' noenhanced
set label 2 heading_2 at screen 0.02, 0.90 left font ',18' noenhanced textcolor rgb '#444444'
set label 99 origin at screen 0.985, 0.018 right font ',14' noenhanced textcolor rgb '#444444'
set label 3 'Causes that agree' at screen 0.02, 0.825 left font ',22'
set border 1
set tmargin at screen 0.79; set bmargin at screen 0.155
set lmargin at screen 0.03; set rmargin at screen 0.50
set grid xtics lt 1 lw 1 lc rgb '#dddddd'
unset ytics
set xrange [0 : 118]
set xtics 0, 20, 100
set xlabel 'share of belief, %'
fit(p) = p < least_fit ? '  does not fit' : ''
plot 'ranking.csv' every ::::rows - 1 using (0):(row(0)):(0):(percent(0)):(row(-0.02)):(row(0.36)) with boxxyerror fc rgb '#0072b2', \
     '' every ::::rows - 1 using (0.5):(row(-0.22)):name_at with labels left font ',19' noenhanced, \
     '' every ::::rows - 1 using (percent(1.5)):(row(0.17)):(sprintf('%.1f %%%s', percent(0), fit(column('fit_p')))) with labels left font ',18' noenhanced

unset label 1; unset label 2; unset label 99
set label 3 next_rows > 0 ? 'What to look at next' : 'No check would tell more' at screen 0.54, 0.825 left font ',22'
set lmargin at screen 0.55; set rmargin at screen 0.97
if (next_rows > 0) {
    set autoscale x
    set xrange [0 : *]
    if (exists("doubt") && doubt > 0.01) { set xrange [0 : 1.15 * doubt] }
    set xtics auto
    set xlabel exists("doubt") ? sprintf('bits it tells, of %.2f bits of doubt', doubt) : 'bits it tells'
    plot 'next.csv' every ::::next_rows - 1 using (0):(row(0)):(0):'bits':(row(-0.02)):(row(0.36)) with boxxyerror fs pattern 4 fc rgb '#d55e00', \
         '' every ::::next_rows - 1 using (0):(row(-0.22)):(stringcolumn('observable')) with labels left offset 0.3,0 font ',19' noenhanced, \
         '' every ::::next_rows - 1 using 'bits':(row(0.17)):(sprintf(' %.2f', column('bits'))) with labels left font ',18'
} else {
    unset border; unset xtics; unset xlabel; unset grid
    set xrange [0 : 1]
    plot NaN
}
unset multiplot
