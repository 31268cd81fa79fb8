# margin.gp - how often an axis ends on its hard stop, against the clearance of the stow point.
#
#   slewtime margin truck.yaml --csv > margin.csv
#   gnuplot -e "wanted=0.001" margin.gp > margin.png
#
# Reads from the current directory
#   margin.csv  one row for each side and clearance, as `slewtime margin --csv` writes it
# Variables, passed by -e, all but the first optional: those of common.gp, and
#   wanted      probability that fault or pressed is to stay below
#   enough_low, enough_high          the clearance found at either stop [deg]
#   stop_low, stop_high              the stops [deg]
#   has_low, has_high                0: that side has no rows
#   own_low, own_high                how far this truck's stow point is from them [deg]
#   name_low, name_high              what they are called: 'lower stop'
# The picture goes to stdout.

if (!exists("wanted")) { printerr "margin.gp: the variable wanted is missing: the allowed risk, 0.001"; exit status 2 }
if (!exists("has_low"))   has_low = 1
if (!exists("has_high"))  has_high = 1
if (!exists("heading_1")) heading_1 = 'The clearance a stow point needs'
do for [k in 'low high'] { if (!exists('own_'.k)) { eval 'own_'.k.' = NaN' }; if (!exists('name_'.k)) { eval 'name_'.k.' = "'.k.' stop"' } }
load system("dirname '".ARG0."'")."/common.gp"

side(k) = k == 0 ? 'low' : 'high'
if (has_low)  stats 'margin.csv' using (stringcolumn('side') eq 'low' ? column('clearance_deg') : NaN) nooutput name 'low'
if (has_high) stats 'margin.csv' using (stringcolumn('side') eq 'high' ? column('clearance_deg') : NaN) nooutput name 'high'

shares = wanted / 10.0 < 1e-4 ? wanted / 10.0 : 1e-4
set logscale xy
set yrange [shares : 1.5]
ones = "set ytics ('1 in 1' 1, '1 in 10' 0.1, '1 in 100' 0.01, '1 in 1000' 1e-3, '1 in 10 000' 1e-4, '1 in 100 000' 1e-5, '1 in a million' 1e-6, '1 in 10 million' 1e-7)"
blanks = "set ytics ('' 1, '' 0.1, '' 0.01, '' 1e-3, '' 1e-4, '' 1e-5, '' 1e-6, '' 1e-7)"
@ones
set xtics ('0.25' 0.25, '0.5' 0.5, '1' 1, '2' 2, '4' 4, '8' 8, '16' 16, '32' 32, '64' 64, '128' 128)

# a share of 0 has no place on a logarithmic axis: its upper bound alone is shown
of(k, value) = stringcolumn('side') eq side(k) && value > 0 ? value : NaN
none(k, value) = stringcolumn('side') eq side(k) && column('either') == 0 ? value : NaN
called(k) = value('name_'.side(k)).(exists('stop_'.side(k)) ? sprintf(', at %g°', value('stop_'.side(k))) : '')
x_name = 'clearance of the stow point from the stop, °'
y_name = 'share of the simulated days that jam on the stop'

if (format eq 'dumb') {
    set title wrap(heading_1, columns - 4)
    set key outside below
    set xlabel x_name
    plot 'margin.csv' using 'clearance_deg':(of(0, column('either'))) with linespoints title 'jams, '.name_low, \
         '' using 'clearance_deg':(of(1, column('either'))) with linespoints title 'jams, '.name_high, \
         wanted with lines title 'allowed risk'
    exit
}

# a slide has the stop that this truck is near, or else the first there is
near_high = has_high && (!has_low || own_high < own_low)
if (slide) { has_low = has_low && !near_high; has_high = near_high }
panels = has_low + has_high
bottom = slide ? 0.3 : 0.23
set multiplot
@name_y
shown = 0
do for [k = 0:1] {
    if (k == 0 ? has_low : has_high) {
        set lmargin at screen (slide ? 0.17 : shown == 0 ? 0.115 : 0.575)
        set rmargin at screen (panels == 1 ? 0.97 : (shown == 0 ? 0.535 : 0.985))
        if (!slide) { set tmargin at screen panel_top - 1.8 * pixels(text_points) / H }
        set bmargin at screen bottom
        set label 3 called(k) at graph 0.99, graph (slide ? 0.92 : 1.045) right font bold noenhanced front
        set xlabel x_name
        if (shown == 1) { @blanks }
        set xrange [0.2 : 1.25 * (k == 0 ? low_max : high_max)]
        unset arrow; unset label 4; unset label 5
        enough = exists('enough_'.side(k)) ? value('enough_'.side(k)) : -1
        if (enough > 0) {
            set arrow 1 from first enough, graph 0 to first enough, graph 1 nohead @line_wanted front
            set label 4 sprintf('enough: %.1f°', enough) at first enough, graph 0.06 right offset -0.6,0 font bold front
        }
        own = value('own_'.side(k))
        if (own > 0.2 && own < 1.25 * (k == 0 ? low_max : high_max)) {
            set arrow 2 from first own, graph 0.3 to first own, graph 0 filled lc rgb ink lw 3 * thick front
            set label 5 sprintf('this truck: %.1f°', own) at first own, graph 0.33 center font bold front boxed
            if (log(own / 0.2) > 0.8 * log(1.25 * (k == 0 ? low_max : high_max) / 0.2)) { set label 5 right }
        }
        plot 'margin.csv' using 'clearance_deg':(of(k, column('either_low') > 0 ? column('either_low') : shares)):(of(k, column('either_high'))) \
                 with filledcurves @fill_between notitle, \
             '' using 'clearance_deg':(of(k, column('hard_stop'))) with linespoints lw 2.5 * thick dt 3 pt 5 ps 1.2 * dot lc rgb role_wrong notitle, \
             '' using 'clearance_deg':(of(k, column('pressed'))) with linespoints lw 2.5 * thick dt 2 pt 9 ps 1.4 * dot lc rgb ink_rotation notitle, \
             '' using 'clearance_deg':(of(k, column('either'))) with linespoints lw 4 * thick pt 7 ps 1.1 * dot lc rgb ink notitle, \
             '' using 'clearance_deg':(none(k, column('either_high'))) with points pt 11 ps 1.6 * dot lc rgb ink notitle, \
             '' using 'clearance_deg':(slide ? NaN : of(k, column('too_short'))) with linespoints lw 2 dt 4 pt 4 ps 1.2 * dot lc rgb ink_faint notitle, \
             '' using 'clearance_deg':(slide ? NaN : of(k, column('too_near'))) with linespoints lw 2 dt 5 pt 8 ps 1.2 * dot lc rgb ink_faint notitle, \
             wanted with lines lw 3 * thick dt (12,4) lc rgb role_good notitle
        shown = shown + 1
        unset label
    }
}

# one key below both panels, as wide as the picture
unset label; unset arrow; unset border; unset tics; unset grid; unset xlabel; unset ylabel
unset logscale
set lmargin at screen 0.02; set rmargin at screen 0.98
set tmargin at screen (slide ? 0.15 : 0.115); set bmargin at screen 0.02
set xrange [0:1]; set yrange [0:1]
set key inside center center horizontal Left reverse samplen 2.5 width (slide ? 1 : 1) maxcols (slide ? 2 : 3) font small
plot NaN with linespoints lw 4 * thick pt 7 ps 1.1 * dot lc rgb ink title 'jams: fault or unnoticed', \
     NaN with linespoints lw 2.5 * thick dt 3 pt 5 ps 1.2 * dot lc rgb role_wrong title 'fault on the stop', \
     NaN with linespoints lw 2.5 * thick dt 2 pt 9 ps 1.4 * dot lc rgb ink_rotation title 'jammed, reported stowed', \
     NaN with lines lw 3 * thick dt (12,4) lc rgb role_good title 'allowed risk', \
     (slide ? 1 / 0 : NaN) with boxes @fill_between title (slide ? '' : '95 % interval'), \
     (slide ? 1 / 0 : NaN) with points pt 11 ps 1.6 * dot lc rgb ink title (slide ? '' : 'none jammed: at most this'), \
     (slide ? 1 / 0 : NaN) with linespoints lw 2 dt 4 pt 4 ps 1.2 * dot lc rgb ink_faint title (slide ? '' : 'stowed, too far from the stop'), \
     (slide ? 1 / 0 : NaN) with linespoints lw 2 dt 5 pt 8 ps 1.2 * dot lc rgb ink_faint title (slide ? '' : 'stowed, too near the stop')
unset multiplot
