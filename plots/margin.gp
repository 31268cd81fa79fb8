# margin.gp - how often an axis ends on its hard stop, against the clearance of the stow point.
#
#   slewtime margin truck.yaml --csv > margin.csv
#   gnuplot -e "wanted=0.001" margin.gp > margin.png
#
# Reads from the current directory
#   margin.csv  one row for each side and clearance, as `slewtime margin --csv` writes it
# Variables, passed by -e, all but the first optional
#   wanted      probability that fault or pressed is to stay below
#   format      'png' (1600 x 1000), 'svg', 'pdf', or 'dumb' for a terminal of columns x lines
#   enough_low, enough_high          the clearance found at either stop [deg]
#   stop_low, stop_high              the stops [deg]
#   has_low, has_high                0: that side has no rows
#   heading_1, heading_2             what was found, and on what truck and spread
#   origin                           which scenario and samples, small in the corner
#   caution                          what can be struck, in the corner above
# The picture goes to stdout.

if (!exists("wanted")) { printerr "margin.gp: the variable wanted is missing: the allowed risk, 0.001"; exit status 2 }
if (!exists("format"))    format = 'png'
if (!exists("columns"))   columns = 100
if (!exists("lines"))     lines = 24
if (!exists("has_low"))   has_low = 1
if (!exists("has_high"))  has_high = 1
if (!exists("heading_1")) heading_1 = 'The clearance a stow point needs'
if (!exists("heading_2")) heading_2 = ''
if (!exists("origin"))    origin = ''

set encoding utf8
set datafile separator comma
set datafile columnheaders
if (format eq 'png') set terminal pngcairo size 1600,1000 font 'sans,20' background 'white'
if (format eq 'svg') set terminal svg size 1600,1000 font 'sans,20' background 'white'
if (format eq 'pdf') set terminal pdfcairo size 32cm,20cm font 'sans,16' background 'white'
if (format eq 'dumb') set terminal dumb size columns, lines

side(k) = k == 0 ? 'low' : 'high'
if (has_low)  stats 'margin.csv' using (stringcolumn('side') eq 'low' ? column('clearance_deg') : NaN) nooutput name 'low'
if (has_high) stats 'margin.csv' using (stringcolumn('side') eq 'high' ? column('clearance_deg') : NaN) nooutput name 'high'

shares = wanted / 10.0 < 1e-4 ? wanted / 10.0 : 1e-4
set logscale xy
set yrange [shares : 1.5]
set ytics ('1 in 1' 1, '1 in 10' 0.1, '1 in 100' 0.01, '1 in 1000' 1e-3, '1 in 10 000' 1e-4, \
           '1 in 100 000' 1e-5, '1 in a million' 1e-6, '1 in 10 million' 1e-7)
set xtics ('0.25' 0.25, '0.5' 0.5, '1' 1, '2' 2, '4' 4, '8' 8, '16' 16, '32' 32, '64' 64, '128' 128)
set border 3
set tics nomirror
set grid ytics lc rgb '#dddddd'

# a share of 0 has no place on a logarithmic axis: its upper bound alone is shown
of(k, value) = stringcolumn('side') eq side(k) && value > 0 ? value : NaN

if (format eq 'dumb') {
    set title heading_1 noenhanced
    set key outside below
    set xlabel 'clearance, deg'
    k = has_low ? 0 : 1
    plot 'margin.csv' using 'clearance_deg':(of(0, column('either'))) with linespoints title 'fault or pressed, low stop', \
         '' using 'clearance_deg':(of(1, column('either'))) with linespoints title 'fault or pressed, high stop', \
         wanted with lines title 'wanted'
    exit
}

unset key
set multiplot
set label 1 heading_1 at screen 0.03, 0.955 left font ',30' noenhanced
set label 2 heading_2 at screen 0.03, 0.905 left font ',16' noenhanced textcolor rgb '#444444'
set label 99 origin at screen 0.985, 0.018 right font ',14' noenhanced textcolor rgb '#444444'
if (exists("caution")) { set label 98 caution at screen 0.985, 0.984 right font ',12' noenhanced textcolor rgb '#a03000' }
panels = has_low + has_high
shown = 0
do for [k = 0:1] {
    if (k == 0 ? has_low : has_high) {
        left = shown == 0 ? 0.115 : 0.575
        right = panels == 1 ? 0.97 : (shown == 0 ? 0.535 : 0.985)
        set lmargin at screen left; set rmargin at screen right
        set tmargin at screen 0.815; set bmargin at screen 0.27
        name = k == 0 ? 'Low stop' : 'High stop'
        if (k == 0 && exists("stop_low"))  { name = name.sprintf(', at %g deg', stop_low) }
        if (k == 1 && exists("stop_high")) { name = name.sprintf(', at %g deg', stop_high) }
        set label 3 name at graph 0.0, 1.045 left font ',22' noenhanced
        set xlabel 'clearance of the stow point from the stop, deg'
        if (shown == 0) {
            set ylabel 'share of trucks and days' offset -1.5,0
        }
        if (shown == 1) {
            unset ylabel
            set ytics ('' 1, '' 0.1, '' 0.01, '' 1e-3, '' 1e-4, '' 1e-5, '' 1e-6, '' 1e-7)
        }
        set xrange [0.2 : 1.25 * (k == 0 ? low_max : high_max)]
        unset arrow; unset label 4
        enough = k == 0 ? (exists("enough_low") ? enough_low : -1) : (exists("enough_high") ? enough_high : -1)
        if (enough > 0) {
            set arrow 1 from first enough, graph 0 to first enough, graph 1 nohead lw 3 dt 2 lc rgb '#000000' front
            set label 4 sprintf('enough: %.2f deg ', enough) at first enough, graph 0.06 right font ',22' front
        }
        plot 'margin.csv' using 'clearance_deg':(of(k, column('either_low') > 0 ? column('either_low') : shares)):(of(k, column('either_high') > shares ? column('either_high') : shares)) \
                 with filledcurves fc rgb '#cccccc' notitle, \
             '' using 'clearance_deg':(of(k, column('hard_stop'))) with linespoints lw 3 dt 3 pt 5 ps 1.4 lc rgb '#d55e00' notitle, \
             '' using 'clearance_deg':(of(k, column('pressed'))) with linespoints lw 3 dt 2 pt 9 ps 1.6 lc rgb '#0072b2' notitle, \
             '' using 'clearance_deg':(of(k, column('either'))) with linespoints lw 5 pt 7 ps 1.2 lc rgb '#000000' notitle, \
             '' using 'clearance_deg':(of(k, column('too_near'))) with linespoints lw 2 dt 5 pt 8 ps 1.4 lc rgb '#777777' notitle, \
             '' using 'clearance_deg':(of(k, column('too_short'))) with linespoints lw 2 dt 4 pt 4 ps 1.4 lc rgb '#777777' notitle, \
             wanted with lines lw 3 lc rgb '#009e73' notitle
        shown = shown + 1
    }
}

# one key below both panels, as wide as the picture
unset label; unset arrow; unset border; unset tics; unset grid; unset xlabel; unset ylabel
unset logscale
set lmargin at screen 0.03; set rmargin at screen 0.97
set tmargin at screen 0.15; set bmargin at screen 0.02
set xrange [0:1]; set yrange [0:1]
set key inside center center horizontal Left reverse samplen 3 width 1 maxrows 3 font ',17'
plot NaN with linespoints lw 5 pt 7 ps 1.2 lc rgb '#000000' title 'fault or pressed', \
     NaN with linespoints lw 3 dt 3 pt 5 ps 1.4 lc rgb '#d55e00' title 'fault on the stop', \
     NaN with linespoints lw 3 dt 2 pt 9 ps 1.6 lc rgb '#0072b2' title 'pressed, reported stowed', \
     NaN with boxes fillstyle solid fc rgb '#cccccc' title 'its 95 % interval', \
     NaN with lines lw 3 lc rgb '#009e73' title 'to stay below', \
     NaN with linespoints lw 2 dt 4 pt 4 ps 1.4 lc rgb '#777777' title 'stowed, too far from the stop', \
     NaN with linespoints lw 2 dt 5 pt 8 ps 1.4 lc rgb '#777777' title 'stowed, too near the stop'
unset multiplot
