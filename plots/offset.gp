# offset.gp - where an axis rests after each choice of deploy seconds, against the target, and what
# drives it.
#
#   slewtime offset truck.yaml --csv > offset.csv
#   gnuplot -e "format='png'" offset.gp > offset.png
#
# Reads from the current directory
#   offset.csv   one row for each choice, as `slewtime offset --csv` writes it: seconds_rotation,
#                seconds_elevation, inside, and of each axis elevation_lowest_deg, elevation_p05_deg,
#                elevation_median_deg, elevation_p95_deg, elevation_highest_deg
#   drivers.csv  with `bars` alone: key, of (what is drawn, and for what), first, total (indices, 0
#                to 1); the greatest total first
# Variables, passed by -e, all optional
#   format      'png' (1600 x 1000), 'svg', 'pdf', or 'dumb' for a terminal of columns x lines
#   axis        'elevation' or 'rotation': whose seconds and angles are shown
#   beside      seconds of the other axis: only the rows with these are shown
#   target_low, target_high          the window [deg]
#   bars        how many rows of drivers.csv are shown; 0: no second panel
#   heading_1, heading_2             what was found, and on what truck and spread
#   origin                           which scenario and samples, small in the corner
#   caution                          what can be struck, at the foot
# The picture goes to stdout.

if (!exists("format"))    format = 'png'
if (!exists("columns"))   columns = 100
if (!exists("lines"))     lines = 24
if (!exists("axis"))      axis = 'elevation'
if (!exists("bars"))      bars = 0
if (!exists("heading_1")) heading_1 = 'Where the '.axis.' rests after the deploy'
if (!exists("heading_2")) heading_2 = ''
if (!exists("origin"))    origin = ''

set encoding utf8
set datafile separator comma
set datafile columnheaders
own = 'seconds_'.axis
other = 'seconds_'.(axis eq 'elevation' ? 'rotation' : 'elevation')
lowest = axis.'_lowest_deg'; p05 = axis.'_p05_deg'; median = axis.'_median_deg'
p95 = axis.'_p95_deg'; highest = axis.'_highest_deg'
stats 'offset.csv' using (column(other)) nooutput
if (!exists("beside")) beside = STATS_min
of(value) = abs(column(other) - beside) < 1e-9 ? value : NaN
stats 'offset.csv' using (of(column(own))) nooutput
x_low = STATS_min; x_high = STATS_max
share_font = STATS_records > 8 ? ',16' : ',22'
pad = x_high > x_low ? 0.12 * (x_high - x_low) : 1
half = x_high > x_low ? 0.12 * (x_high - x_low) / (STATS_records > 1 ? STATS_records - 1 : 1) * 2 : 0.2
stats 'offset.csv' using (of(column(lowest))) nooutput
y_low = STATS_min
stats 'offset.csv' using (of(column(highest))) nooutput
y_high = STATS_max
if (!exists("target_low"))  target_low = y_low
if (!exists("target_high")) target_high = y_high
y_low = (y_low < target_low ? y_low : target_low)
y_high = (y_high > target_high ? y_high : target_high)
y_pad = 0.1 * (y_high > y_low ? y_high - y_low : 1)

if (format eq 'png') set terminal pngcairo size 1600,1000 font 'sans,20' background 'white'
if (format eq 'svg') set terminal svg size 1600,1000 font 'sans,20' background 'white'
if (format eq 'pdf') set terminal pdfcairo size 32cm,20cm font 'sans,16' background 'white'
if (format eq 'dumb') set terminal dumb size columns, lines

set xlabel axis.' seconds of the deploy, s'
set ylabel axis.' at rest, deg'
set xrange [x_low - pad : x_high + pad]
set yrange [y_low - y_pad : y_high + 2 * y_pad]
set border 3
set tics nomirror
set grid ytics lc rgb '#dddddd'
set boxwidth half
set style fill solid 0.55 border lc rgb '#004c7a'

if (format eq 'dumb') {
    set title heading_1 noenhanced
    set key outside below
} else {
    if (bars > 0) { set multiplot }
    set label 1 heading_1 at screen 0.03, 0.955 left font (strlen(heading_1) > 66 ? ',26' : ',30') noenhanced
    set label 2 heading_2 at screen 0.03, 0.905 left font ',16' noenhanced textcolor rgb '#444444'
    set label 3 origin at screen 0.985, 0.018 right font ',14' noenhanced textcolor rgb '#444444'
    if (exists("caution")) { set label 98 caution at screen 0.03, 0.018 left font ',12' noenhanced textcolor rgb '#a03000' }
    set lmargin at screen 0.08
    set rmargin at screen (bars > 0 ? 0.655 : 0.97)
    set tmargin at screen 0.86; set bmargin at screen 0.24
    set key at screen (bars > 0 ? 0.4 : 0.5), 0.09 center vertical Left reverse samplen 1.5 width 1 \
        maxrows (bars > 0 ? 2 : 1)
    set object 1 rectangle from graph 0, first target_low to graph 1, first target_high behind \
        fillcolor rgb '#dcebf4' fillstyle solid border lc rgb '#0072b2'
}

plot 'offset.csv' using (of(column(own))):(column(p05)):(column(lowest)):(column(highest)):(column(p95)) \
         with candlesticks whiskerbars 0.5 lc rgb '#0072b2' lw 2 title '5 to 95 %; whiskers: extremes', \
     '' using (of(column(own))):(column(median)):(half / 2) \
         with xerrorbars pt 7 ps 1.4 lc rgb '#000000' lw 3 title 'median', \
     '' using (of(column(own))):(column(highest)):(sprintf("%.1f %%", 100 * column('inside'))) \
         with labels offset 0,1.2 font share_font title '%: share inside the target', \
     NaN with boxes fillcolor rgb '#dcebf4' fillstyle solid lc rgb '#0072b2' title 'target'

if (bars > 0 && format ne 'dumb') {
    # one bar for each drawn number, its name above it: first order inside total
    unset label; unset object; unset ylabel; unset ytics; unset grid
    set lmargin at screen 0.69; set rmargin at screen 0.965
    set border 1
    set grid xtics lc rgb '#dddddd'
    set xlabel 'share of the variance, %'
    set xrange [0:105]
    set xtics 0, 25, 100
    set yrange [6 : -0.75]
    set label 4 'What drives the '.axis at graph 0, 1.0 left font ',22' noenhanced
    set key at screen 0.83, 0.09 center vertical Left reverse samplen 1.5 width 1 maxrows 2
    set style fill solid 1 border lc rgb '#000000'
    # an index found a little above its total, or below 0, is so by chance
    within(first, total) = first > total ? total : first < 0 ? 0 : first
    plot 'drivers.csv' every ::0::(bars - 1) using (0):0:(0):(100 * column('total')):(column(0) + 0.08):(column(0) + 0.42) \
             with boxxyerror fc rgb '#cfcfcf' fs solid 1 border lc rgb '#000000' title 'with others (total)', \
         '' every ::0::(bars - 1) using (0):0:(0):(100 * within(column('first'), column('total'))):(column(0) + 0.16):(column(0) + 0.34) \
             with boxxyerror fc rgb '#00395c' fs solid 1 border lc rgb '#000000' title 'alone (first order)', \
         '' every ::0::(bars - 1) using (0):(column(0) - 0.12):(sprintf("%s, %s", stringcolumn('key'), stringcolumn('of'))) \
             with labels left offset 0.2,0 font ',15' noenhanced notitle, \
         '' every ::0::(bars - 1) using (100 * column('total')):(column(0) + 0.25):(sprintf("%.0f", 100 * column('total'))) \
             with labels left offset 0.6,0 font ',18' notitle
    unset multiplot
}
