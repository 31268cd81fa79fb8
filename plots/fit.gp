# fit.gp - how the readings of a fit are met: measured against simulated, and how far each is off.
#
#   slewtime fit truck.yaml times.csv --key elevation.gear.efficiency --csv > fit.csv
#   gnuplot -e "format='png'" fit.gp > fit.png
#
# Reads from the current directory
#   fit.csv     one row for each reading, as `slewtime fit --csv` writes it: line (of the timings),
#               measure (seconds, voltage, current), measured, sd, simulated, off_sd, weight
# Variables, passed by -e, all optional
#   format      'png' (1600 x 1000), 'svg', 'pdf', or 'dumb' for a terminal of columns x lines
#   heading_1, heading_2             what was found, and on what truck and readings
#   origin                           which scenario, small in the corner
#   caution                          what can be struck, at the foot
# The picture goes to stdout.

if (!exists("format"))    format = 'png'
if (!exists("columns"))   columns = 100
if (!exists("lines"))     lines = 24
if (!exists("heading_1")) heading_1 = 'The readings, measured and simulated'
if (!exists("heading_2")) heading_2 = ''
if (!exists("origin"))    origin = ''

set encoding utf8
set datafile separator comma
set datafile columnheaders
if (format eq 'png') set terminal pngcairo size 1600,1000 font 'sans,20' background 'white'
if (format eq 'svg') set terminal svg size 1600,1000 font 'sans,20' background 'white'
if (format eq 'pdf') set terminal pdfcairo size 32cm,20cm font 'sans,16' background 'white'
if (format eq 'dumb') set terminal dumb size columns, lines

# a column of the readings of one measure, and of those that do not count
of(name, measure) = stringcolumn('measure') eq measure ? column(name) : NaN
dropped(name) = column('weight') < 0.5 ? column(name) : NaN
# the readings of one row side by side
place(x) = column('line') + (stringcolumn('measure') eq 'seconds' ? -0.25 : stringcolumn('measure') eq 'voltage' ? 0 : 0.25)
stats 'fit.csv' using 'line' nooutput name 'line'
stats 'fit.csv' using 'off_sd' nooutput name 'off'
low = off_min - 1.5 < -3.5 ? off_min - 1.5 : -3.5
high = off_max + 1.5 > 3.5 ? off_max + 1.5 : 3.5
stats 'fit.csv' using 'measured' nooutput name 'measured'
stats 'fit.csv' using 'simulated' nooutput name 'simulated'
most = measured_max > simulated_max ? measured_max : simulated_max
least = measured_min < simulated_min ? measured_min : simulated_min
pad = most > least ? 0.06 * (most - least) : 1

if (format eq 'dumb') {
    set title (strlen(heading_1) > columns - 14 ? heading_1[1:columns - 17].'...' : heading_1) noenhanced
    set key outside below
    set xlabel 'line of the CSV'
    set xrange [line_min - 1 : line_max + 1]
    plot 'fit.csv' using (place(0)):(of('off_sd', 'seconds')) with points title '(measured - simulated)/sd: seconds', \
         '' using (place(0)):(of('off_sd', 'voltage')) with points title 'volts', \
         '' using (place(0)):(of('off_sd', 'current')) with points title 'amps', \
         0 with lines notitle
    exit
}

set border 3
set tics nomirror
set key noautotitle; unset key
set multiplot
set label 1 heading_1 at screen 0.03, 0.955 left font (strlen(heading_1) < 82 ? ',30' : ',20') noenhanced
set label 99 origin at screen 0.985, 0.018 right font ',14' noenhanced textcolor rgb '#444444'
if (exists("caution")) { set label 98 caution at screen 0.03, 0.018 left font ',12' noenhanced textcolor rgb '#a03000' }
set label 2 heading_2 at screen 0.03, 0.905 left font ',16' noenhanced textcolor rgb '#444444'

# measured against simulated
set lmargin at screen 0.075; set rmargin at screen 0.43
set tmargin at screen 0.83; set bmargin at screen 0.21
set label 3 'Measured against simulated' at graph 0, 1.04 left font ',22'
set xlabel 'simulated, s or V or A'
set ylabel 'measured, s or V or A' offset 1,0
set xrange [least - pad : most + pad]
set yrange [least - pad : most + pad]
set grid lc rgb '#e4e4e4'
plot x with lines lw 2 lc rgb '#888888', \
     'fit.csv' using (of('simulated', 'seconds')):'measured':'sd' with yerrorbars pt 7 ps 1.6 lw 2 lc rgb '#0072b2', \
     '' using (of('simulated', 'voltage')):'measured':'sd' with yerrorbars pt 8 ps 2 lw 2 lc rgb '#d55e00', \
     '' using (of('simulated', 'current')):'measured':'sd' with yerrorbars pt 4 ps 1.8 lw 2 lc rgb '#000000', \
     '' using (dropped('simulated')):'measured' with points pt 2 ps 3.4 lw 3 lc rgb '#000000'

# how far off, in standard deviations
unset label
set lmargin at screen 0.515; set rmargin at screen 0.98
set label 3 'How far off each reading is' at graph 0, 1.04 left font ',22'
set xlabel 'line of the CSV'
set ylabel '(measured - simulated) / sd' offset 0.5,0
set xrange [line_min - 0.7 : line_max + 0.7]
set yrange [low : high]
unset grid
set grid ytics lc rgb '#e4e4e4'
set object 1 rectangle from graph 0, first -2 to graph 1, first 2 behind fc rgb '#eeeeee' fillstyle solid noborder
set object 2 rectangle from graph 0, first -1 to graph 1, first 1 behind fc rgb '#dddddd' fillstyle solid noborder
span = line_max - line_min
step = span <= 24 ? 1 : span <= 60 ? 5 : 20
set xtics step
plot 0 with lines lw 2 lc rgb '#888888', \
     'fit.csv' using (place(0)):(of('off_sd', 'seconds')):(1) \
         with yerrorbars pt 7 ps 1.6 lw 2 lc rgb '#0072b2', \
     '' using (place(0)):(of('off_sd', 'voltage')):(1) with yerrorbars pt 8 ps 2 lw 2 lc rgb '#d55e00', \
     '' using (place(0)):(of('off_sd', 'current')):(1) with yerrorbars pt 4 ps 1.8 lw 2 lc rgb '#000000', \
     '' using (place(0)):(dropped('off_sd')) with points pt 2 ps 3.4 lw 3 lc rgb '#000000'

# one key below both panels
unset label; unset object; unset border; unset tics; unset grid; unset xlabel; unset ylabel
set lmargin at screen 0.03; set rmargin at screen 0.8
set tmargin at screen 0.09; set bmargin at screen 0.02
set xrange [0:1]; set yrange [0:1]
set key inside center center horizontal Left reverse samplen 2 width -1 maxcols 3 maxrows 2 font ',18'
plot NaN with points pt 7 ps 1.6 lw 2 lc rgb '#0072b2' title 'seconds', \
     NaN with points pt 8 ps 2 lw 2 lc rgb '#d55e00' title 'volts', \
     NaN with points pt 4 ps 1.8 lw 2 lc rgb '#000000' title 'amps', \
     NaN with points pt 2 ps 3 lw 3 lc rgb '#000000' title 'not counted (--robust)', \
     NaN with boxes fillstyle solid fc rgb '#dddddd' title '1 sd', \
     NaN with boxes fillstyle solid fc rgb '#eeeeee' title '2 sd'
unset multiplot
