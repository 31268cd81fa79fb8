# causes_seen.gp - which causes agree with what was seen, and which check tells the rest apart.
#
#   slewtime causes truck.yaml --seen seen.yaml --plot ranking.png
#
# Reads from the current directory
#   ranking.csv  row, cause, share of belief, p of its fit: the candidates, likeliest first
#   next.csv     row, observable, bits that it tells on average
# Variables, passed by -e, all optional
#   format       'png' (1600 x 900), 'svg', 'pdf', or 'dumb' for a terminal of columns x lines
#   rows, next_rows   how many rows there are
#   doubt        bits of doubt that are left
#   least_fit    below it a cause does not fit
#   heading_1, heading_2             what was found, and on what truck
#   origin                           which scenario and samples, small in the corner
# The picture goes to stdout.

if (!exists("format"))    format = 'png'
if (!exists("columns"))   columns = 100
if (!exists("lines"))     lines = 24
if (!exists("heading_1")) heading_1 = 'Which causes agree with what was seen'
if (!exists("heading_2")) heading_2 = ''
if (!exists("origin"))    origin = ''
if (!exists("least_fit")) least_fit = 0.01
if (!exists("next_rows")) next_rows = 0

set encoding utf8
set datafile separator comma
if (!exists("rows")) { stats 'ranking.csv' using 1 skip 1 nooutput; rows = int(STATS_max) }

if (format eq 'png') set terminal pngcairo size 1600,900 font 'sans,20' background 'white'
if (format eq 'svg') set terminal svg size 1600,900 font 'sans,20' background 'white'
if (format eq 'pdf') set terminal pdfcairo size 32cm,18cm font 'sans,16' background 'white'
if (format eq 'dumb') set terminal dumb size columns, lines

most = rows > 6 ? rows : 6
set yrange [most + 0.6 : 0.4]
unset key
set tics nomirror
set style fill solid 0.7 border lc rgb '#000000'

if (format eq 'dumb') {
    set title heading_1 noenhanced
    set yrange [rows + 0.6 : 0.4]
    set xrange [0 : 100]
    set xlabel 'share of belief, %'
    plot 'ranking.csv' using (100 * $3):1:yticlabels(stringcolumn(2)) skip 1 with impulses, \
         '' using (100 * $3):1 skip 1 with points pt 7
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
plot 'ranking.csv' using (0):1:(0):(100 * $3):($1 - 0.02):($1 + 0.36) skip 1 with boxxyerror fc rgb '#0072b2', \
     '' using (0.5):($1 - 0.22):(stringcolumn(2)) skip 1 with labels left font ',19' noenhanced, \
     '' using (100 * $3 + 1.5):($1 + 0.17):(sprintf('%.1f %%%s', 100 * $3, fit($4))) skip 1 with labels left font ',18' noenhanced

unset label 1; unset label 2; unset label 99
set label 3 next_rows > 0 ? 'What to look at next' : 'No check would tell more' at screen 0.54, 0.825 left font ',22'
set lmargin at screen 0.55; set rmargin at screen 0.97
if (next_rows > 0) {
    set autoscale x
    set xrange [0 : *]
    if (exists("doubt") && doubt > 0.01) { set xrange [0 : 1.15 * doubt] }
    set xtics auto
    set xlabel exists("doubt") ? sprintf('bits it tells, of %.2f bits of doubt', doubt) : 'bits it tells'
    plot 'next.csv' using (0):1:(0):3:($1 - 0.02):($1 + 0.36) skip 1 with boxxyerror fs pattern 4 fc rgb '#d55e00', \
         '' using (0):($1 - 0.22):(stringcolumn(2)) skip 1 with labels left offset 0.3,0 font ',19' noenhanced, \
         '' using 3:($1 + 0.17):(sprintf(' %.2f', $3)) skip 1 with labels left font ',18'
} else {
    unset border; unset xtics; unset xlabel; unset grid
    set xrange [0 : 1]
    plot NaN
}
unset multiplot
