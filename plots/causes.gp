# causes.gp - what each cause would look like at the truck, one row each.
#
#   slewtime causes truck.yaml --plot causes.png
#
# Reads from the current directory
#   signatures.csv  one row for each cause as the list "causes" of --json has it: name, and of
#                   what it looks like signature_X_p05, _median and _p95 of the numbers X
#                   stow.seconds [s], stow.elevation [deg] and lowest_voltage [V], and
#                   signature_X_word of the choices X stow.says and stow.fault
# Variables, passed by -e, all optional
#   format          'png' (1600 wide), 'svg', 'pdf', or 'dumb' for a terminal of columns x lines
#   rows            how many rows there are
#   start           elevation where the stow begins [deg]: marked
#   heading_1, heading_2             what was found, and on what truck
#   origin                           which scenario and samples, small in the corner
# The picture goes to stdout.

if (!exists("format"))    format = 'png'
if (!exists("columns"))   columns = 100
if (!exists("heading_1")) heading_1 = 'What each cause looks like'
if (!exists("heading_2")) heading_2 = ''
if (!exists("origin"))    origin = ''

set encoding utf8
set datafile separator comma
set datafile columnheaders
if (!exists("rows")) { stats 'signatures.csv' using (1) nooutput; rows = int(STATS_records) }
stats 'signatures.csv' using 'signature_lowest_voltage_median' nooutput name 'volts'

# name_at: by its number alone gnuplot takes a name with a comma whole
do for [i = 1:2] { stats 'signatures.csv' using (head = columnhead(i), 0) nooutput; eval head.'_at = '.i }

# rows count from the top; of a number of the signature its 5 %, 50 % and 95 %
row(shift) = column(0) + 1 + shift
of(name, part) = column(name.'_'.part)
what(k) = 'signature_'.word('stow.seconds stow.elevation lowest_voltage', k + 1)
# what the controller says, in one word
fault(x) = stringcolumn('signature_stow.fault_word')
says(x) = fault(0) eq '' || fault(0) eq 'none' ? stringcolumn('signature_stow.says_word') : fault(0)

high = 310 + 32 * rows
if (format eq 'png') set terminal pngcairo size 1600,high font 'sans,18' background 'white'
if (format eq 'svg') set terminal svg size 1600,high font 'sans,18' background 'white'
if (format eq 'pdf') set terminal pdfcairo size 32cm,(high/50.0)cm font 'sans,14' background 'white'
if (format eq 'dumb') set terminal dumb size columns, rows + 8

set yrange [rows + 0.6 : 0.4]
set border 1
set key noautotitle; unset key

if (format eq 'dumb') {
    set title heading_1 noenhanced
    set xlabel 'elevation at rest, deg'
    set offsets 0, 0, 0, 0
    plot 'signatures.csv' using (of(what(1), 'median')):(row(0)):yticlabels(name_at) with points pt 7
    exit
}

top = 1 - 150.0 / high
bottom = 120.0 / high
set multiplot
set label 1 heading_1 at screen 0.02, 1 - 42.0 / high left font ',26' noenhanced
set label 2 heading_2 at screen 0.02, 1 - 82.0 / high left font ',18' noenhanced textcolor rgb '#444444'
set tmargin at screen top; set bmargin at screen bottom
set tics nomirror
set grid xtics ytics lt 1 lw 1 lc rgb '#dddddd'
set ytics scale 0
set style fill solid 1.0 border lc rgb '#0072b2'

# names and verdicts on the left, then three panels with the same rows
do for [k = 0:2] {
    set lmargin at screen 0.435 + 0.191 * k; set rmargin at screen 0.435 + 0.191 * k + 0.165
    unset logscale x
    set autoscale x
    set xtics auto
    unset arrow
    if (k == 0) { set logscale x; set xrange [0.03 : 130]; set xtics ('0.1' 0.1, '1' 1, '10' 10, '60' 60) }
    if (k == 0) { set xlabel 'says so after, s' }
    if (k == 1) { set xlabel 'elevation rests at, deg' }
    if (k == 1) { set xtics 40 }
    if (k == 2) { set xlabel 'lowest voltage, V' }
    if (k == 2) { set xtics volts_max - volts_min > 1.5 ? 1 : 0.5 }
    if (k == 1 && exists("start")) { set arrow 1 from first start, graph 0 to first start, graph 1 nohead dt 2 lw 2 lc rgb '#777777' back }
    if (k == 1 && exists("start")) { set label 5 'start' at first start, graph 1.018 center font ',15' textcolor rgb '#444444' }
    set format y ''
    set ytics 1, 1, rows
    if (k == 0) { set label 3 'cause' at screen 0.02, top + 16.0 / high left font ',18' }
    if (k == 0) { set label 4 'controller says' at screen 0.305, top + 16.0 / high left font ',18' }
    plot 'signatures.csv' using (of(what(k), 'median')):(row(0)):(of(what(k), 'p05')):(of(what(k), 'p95')):(row(-0.28)):(row(0.28)) \
             with boxxyerror fc rgb '#7fb8d8' lw 1, \
         '' using (of(what(k), 'median')):(row(0)) with points pt 7 ps 1.3 lc rgb '#000000'
    if (k == 0) { unset label 1; unset label 2; unset label 3; unset label 4 } else { unset label 5 }
}

# the words, on a scale of their own
set lmargin at screen 0; set rmargin at screen 1
unset xtics; unset ytics; unset border; unset grid; unset logscale x; unset xlabel; unset arrow
set xrange [0 : 1]
set label 6 'bar: 5 to 95 % of the samples; dot: the middle one' at screen 0.02, 34.0 / high left font ',15' textcolor rgb '#444444'
set label 99 origin at screen 0.985, 14.0 / high right font ',14' noenhanced textcolor rgb '#444444'
plot 'signatures.csv' using (0.02):(row(0)):name_at with labels left font ',16' noenhanced, \
     '' using (0.305):(row(0)):(says(0)) with labels left font ',16' noenhanced
unset multiplot
