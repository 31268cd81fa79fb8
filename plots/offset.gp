# offset.gp - where an axis rests after each choice of deploy seconds, against the target, and what
# drives it.
#
#   slewtime offset truck.yaml --csv > offset.csv
#   gnuplot -e "format='png'" offset.gp > offset.png
#
# Reads from the current directory
#   offset.csv  one row for each choice, as `slewtime offset --csv` writes it
#   drivers.csv what,first_percent,total_percent: shares of the variance, the largest first
# Variables, passed by -e, all optional
#   format      'png' (1600 x 1000), 'svg', 'pdf', or 'dumb' for a terminal of columns x lines
#   axis        'elevation' or 'rotation': whose seconds and angles are shown
#   beside      seconds of the other axis: only the rows with these are shown
#   target_low, target_high          the window [deg]
#   drivers     rows of drivers.csv; 0: no second panel
#   heading_1, heading_2             what was found, and on what truck and spread
#   origin                           which scenario, samples and seed, small in the corner
# The picture goes to stdout.

if (!exists("format"))    format = 'png'
if (!exists("columns"))   columns = 100
if (!exists("lines"))     lines = 24
if (!exists("axis"))      axis = 'elevation'
if (!exists("drivers"))   drivers = 0
if (!exists("heading_1")) heading_1 = 'Where the '.axis.' rests after the deploy'
if (!exists("heading_2")) heading_2 = ''
if (!exists("origin"))    origin = ''

set encoding utf8
set datafile separator comma
if (axis eq 'elevation') { own = 2; other = 1; first = 13 } else { own = 1; other = 2; first = 8 }
stats 'offset.csv' using other skip 1 nooutput
if (!exists("beside")) beside = STATS_min
of(value) = abs(column(other) - beside) < 1e-9 ? value : NaN
stats 'offset.csv' using (of(column(own))) skip 1 nooutput
x_low = STATS_min; x_high = STATS_max
pad = x_high > x_low ? 0.12 * (x_high - x_low) : 1
half = x_high > x_low ? 0.12 * (x_high - x_low) / (STATS_records > 1 ? STATS_records - 1 : 1) * 2 : 0.2
stats 'offset.csv' using (of(column(first))) skip 1 nooutput
y_low = STATS_min
stats 'offset.csv' using (of(column(first + 4))) skip 1 nooutput
y_high = STATS_max
if (!exists("target_low"))  target_low = y_low
if (!exists("target_high")) target_high = y_high
y_low = (y_low < target_low ? y_low : target_low)
y_high = (y_high > target_high ? y_high : target_high)
y_pad = 0.1 * (y_high - y_low)

if (format eq 'png') set terminal pngcairo size 1600,1000 font 'sans,20' background 'white'
if (format eq 'svg') set terminal svg size 1600,1000 font 'sans,20' background 'white'
if (format eq 'pdf') set terminal pdfcairo size 32cm,20cm font 'sans,16' background 'white'
if (format eq 'dumb') set terminal dumb size columns, lines

right = drivers > 0 ? 0.62 : 0.97
bottom = drivers > 0 ? 0.25 : 0.2
set label 1 heading_1 at screen 0.03, 0.955 left font (strlen(heading_1) > 62 ? ',25' : ',30') noenhanced
set label 2 heading_2 at screen 0.03, 0.905 left font ',18' noenhanced textcolor rgb '#444444'
set label 3 origin at screen 0.98, 0.018 right font ',13' noenhanced textcolor rgb '#444444'
set lmargin at screen 0.09; set rmargin at screen right
set tmargin at screen 0.86; set bmargin at screen bottom
set xlabel axis.' seconds of the deploy, s'
set ylabel axis.' at rest, deg'
set xrange [x_low - pad : x_high + pad]
set yrange [y_low - y_pad : y_high + 2 * y_pad]
set border 3
set tics nomirror
set grid ytics lc rgb '#dddddd'
set key at screen (0.09 + right) / 2, bottom / 2 - 0.035 center horizontal maxcols 2 Left reverse samplen 1.5 width 2 font ',17'
set boxwidth half
set style fill solid 0.55 border lc rgb '#004c7a'
set object 1 rectangle from graph 0, first target_low to graph 1, first target_high behind \
    fillcolor rgb '#dcebf4' fillstyle solid border lc rgb '#0072b2'

if (format eq 'dumb') {
    unset label; unset object; unset lmargin; unset rmargin; unset tmargin; unset bmargin
    set title heading_1 noenhanced
    set key default outside below
}

share_size = drivers > 0 ? 18 : 22
if (format ne 'dumb') set multiplot
plot 'offset.csv' using (of(column(own))):(column(first + 1)):(column(first)):(column(first + 4)):(column(first + 3)) skip 1 \
         with candlesticks whiskerbars 0.5 lc rgb '#0072b2' lw 2 title '5 to 95 %; whiskers: extremes', \
     '' using (of(column(own))):(column(first + 2)):(half / 2) skip 1 \
         with xerrorbars pt 7 ps 1.4 lc rgb '#000000' lw 3 title 'median', \
     '' using (of(column(own))):(column(first + 4)):(sprintf("%.1f %%", 100 * column(3))) skip 1 \
         with labels offset 0,1.2 font ','.share_size title '%: share inside the target', \
     NaN with boxes fillcolor rgb '#dcebf4' fillstyle solid lc rgb '#0072b2' title 'target'
if (format eq 'dumb') exit

# ---- what drives it: the name above each bar, alone inside together with others ----

if (drivers > 0) {
    unset label 2; unset label 3; unset object 1; unset grid; unset ylabel
    set label 1 'What drives where it rests' at screen 0.67, 0.83 left font ',20'
    set lmargin at screen 0.67; set rmargin at screen 0.96
    set tmargin at screen 0.80; set bmargin at screen bottom
    set border 1
    unset ytics
    set xtics 0, 25, 100 format '%g %%'
    set xlabel 'share of the variance'
    set xrange [0:100]
    set yrange [(drivers > 4 ? drivers : 4) - 0.4 : -0.75]
    set key at screen 0.815, bottom / 2 - 0.035 center horizontal maxcols 1 Left reverse samplen 1.5 width 0 font ',17'
    set style fill solid 1 border lc rgb '#000000'
    plot 'drivers.csv' using ($3 / 2):($0 + 0.1):($3 / 2):(0.2) skip 1 \
             with boxxyerror fillstyle pattern 4 lc rgb '#000000' lw 1.5 title 'with others', \
         '' using ($2 / 2):($0 + 0.1):($2 / 2):(0.2) skip 1 \
             with boxxyerror fillcolor rgb '#0072b2' lw 1.5 title 'alone', \
         '' using (0):($0 - 0.25):1 skip 1 with labels left font ',15' noenhanced notitle
}
unset multiplot
