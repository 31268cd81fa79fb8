# causes.gp - what each cause would look like at the truck, one row each.
#
#   slewtime causes truck.yaml --plot causes.png
#
# Reads from the current directory
#   signatures.csv  one row for each cause as the list "causes" of --json has it: name, reports (of
#                   the controller, in words), and of what it looks like signature_X_p05, _median and
#                   _p95 of the numbers X stow.seconds [s], stow.rotation, stow.elevation [deg] and
#                   lowest_voltage [V]
# Variables, passed by -e, all optional: those of common.gp, and
#   rows            how many rows there are
#   start           elevation where the stow begins [deg]: marked; a slide has eight rows at most
# The picture goes to stdout.

if (!exists("heading_1")) heading_1 = 'What each cause looks like'
if (!exists("rows")) { rows = int(system("sed 1d signatures.csv | wc -l")) }
all_rows = rows
slide_rows = 8
sheet_height = 330 + 32 * rows
load system("dirname '".ARG0."'")."/common.gp"

if (slide && rows > slide_rows) { rows = slide_rows }
# name_at: by its number alone gnuplot takes a name with a comma whole
do for [i = 1:2] { stats 'signatures.csv' using (head = columnhead(i), 0) nooutput; eval head.'_at = '.i }

# rows count from the top; of a number of the signature its 5 %, 50 % and 95 %
row(shift) = column(0) + 1 + shift
of(name, part) = column(name.'_'.part)
what(k) = 'signature_'.word('stow.seconds stow.rotation stow.elevation lowest_voltage', k + 1)
units(k) = word('"after, s" "rotation, °" "elevation, °" "lowest, V"', k + 1)

array low[4]; array high[4]
note(k, v) = v == v ? (low[k] = v < low[k] ? v : low[k], high[k] = v > high[k] ? v : high[k], v) : 0
do for [k = 1:4] { low[k] = 1e9; high[k] = -1e9 }
do for [part in '_p05 _p95'] {
    stats 'signatures.csv' using (note(2, column(what(1).part))):(note(3, column(what(2).part))) nooutput
}
stats 'signatures.csv' using (note(4, column('signature_lowest_voltage_p05'))):(note(4, column('signature_lowest_voltage_p95'))) nooutput

if (format eq 'dumb') {
    if (rows > lines - 11) { rows = lines - 11 }
    set terminal dumb size columns, rows + 11 noenhanced
    set title wrap(heading_1, columns - 4).(rows < all_rows ? sprintf("\n%d of %d causes", rows, all_rows) : '')
    set xlabel 'elevation at rest, °'
    set offsets 0, 0, 0, 0
    set yrange [rows + 0.6 : 0.4]
    plot 'signatures.csv' every ::::rows - 1 using 'signature_stow.elevation_median':(row(0)):yticlabels(name_at) with points pt 7 notitle
    exit
}

set yrange [rows + 0.6 : 0.4]
top = panel_top - 0.4 * pixels(text_points) / H
bottom = (slide ? 190.0 : 120.0) / H
set multiplot
set tmargin at screen top; set bmargin at screen bottom
set border 1
set grid xtics ytics lt 1 lw 1 lc rgb ink_grid

# names and verdicts on the left, then panels with the same rows: four, on a slide the elevation
left = slide ? 0.70 : 0.455
first = slide ? 2 : 0
last = slide ? 2 : 3
wide = (0.985 - left) / (last - first + 1)
do for [k = first:last] {
    set lmargin at screen left + wide * (k - first); set rmargin at screen left + wide * (k - first + 1) - 0.022
    unset logscale x
    unset arrow
    unset xtics
    if (k == 0) { set logscale x; set xrange [0.03 : 130]; set xtics ('0.1' 0.1, '1' 1, '10' 10, '60' 60) nomirror out font small
    } else {
        step = tic_step((slide ? 0.9 : 1.7) * (high[k + 1] - low[k + 1]))
        pad = 0.05 * (high[k + 1] > low[k + 1] ? high[k + 1] - low[k + 1] : 1)
        set xrange [low[k + 1] - pad : high[k + 1] + pad]
        set xtics step * floor(low[k + 1] / step), step nomirror out font small
    }
    set xlabel units(k)
    if (k == 2 && exists("start")) {
        set arrow 1 from first start, graph 0 to first start, graph 1 nohead dt 2 lw 2 lc rgb ink_faint back
        set label 5 'start' at first start, screen top + 0.6 * pixels(small_points) / H center font small tc rgb ink_quiet
    }
    set format y ''
    set ytics 1, 1, rows scale 0
    if (k == first) {
        set label 3 'cause' at screen 24.0 / W, top + 0.6 * pixels(small_points) / H left font text
        set label 4 'controller reports' at screen (slide ? 0.44 : 0.30), top + 0.6 * pixels(small_points) / H left font text
    }
    plot 'signatures.csv' every ::::rows - 1 using (of(what(k), 'median')):(row(0)):(of(what(k), 'p05')):(of(what(k), 'p95')):(row(-0.28)):(row(0.28)) \
             with boxxyerror fc rgb role_good fs solid 0.6 border lc rgb role_good lw 1, \
         '' every ::::rows - 1 using (of(what(k), 'median')):(row(0)) with points pt 7 ps 1.2 * dot lc rgb ink
    unset label
}

# the words, on a scale of their own
set lmargin at screen 0; set rmargin at screen 1
unset xtics; unset ytics; unset border; unset grid; unset logscale x; unset xlabel; unset arrow
set xrange [0 : 1]
some = slide && rows < all_rows ? sprintf('%d of %d causes; the sheet has all', rows, all_rows) : 'bar: 5 to 95 % of the simulated days; dot: the middle one'
set label 6 some at screen 24.0 / W, (slide ? 28.0 : 34.0) / H left font small tc rgb ink_quiet
plot 'signatures.csv' every ::::rows - 1 using (24.0 / W):(row(0)):name_at with labels left font small noenhanced, \
     '' every ::::rows - 1 using (slide ? 0.44 : 0.30):(row(0)):(brief(stringcolumn('reports'), fits(small_points, (left - (slide ? 0.44 : 0.30)) * W, 0.57))) with labels left font small noenhanced
unset multiplot
