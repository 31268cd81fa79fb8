# nozzle.gp - reaction of nozzles against pressure, by the momentum of the jet and by the rules.
#
#   slewtime nozzle --tip 1.75in --flow 1000gpm --plot jet.png
#
# Reads from the current directory
#   nozzle.csv  one row for each nozzle asked about, as `slewtime nozzle --csv` writes it; of its
#               columns kind (smooth_bore, spray), pressure_psi, reaction_rule_lbf
#   curves.csv  the same of each tip and each flow over pressure, an empty line behind each; of its
#               columns kind, tip_in, flow_rule_gpm, pressure_psi, and by rule and by momentum
#               reaction_rule_lbf, reaction_momentum_lbf
# Variables, passed by -e, all optional: those of common.gp, and
#   has_bore, has_spray              0: that panel has no rows
#   x_high      highest pressure shown [psi]
#   pressure_unit, force_unit, flow_unit, tip_unit   in which they are shown: 'psi', 'bar'
#   pressure_size and so on          how many of these are in a psi, a lbf, a gpm, an inch
# The picture goes to stdout.

if (!exists("heading_1")) heading_1 = 'Reaction of nozzles against pressure'
if (!exists("has_bore"))  has_bore = 1
if (!exists("has_spray")) has_spray = 1
do for [k = 1:4] {
    if (!exists(word('pressure force flow tip', k).'_unit')) {
        eval word('pressure force flow tip', k)."_unit = '".word('psi lbf gpm in', k)."'"
        eval word('pressure force flow tip', k).'_size = 1'
    }
}
load system("dirname '".ARG0."'")."/common.gp"

stats 'curves.csv' using 'pressure_psi' nooutput
end = STATS_max
if (!exists("x_high"))    x_high = end
stats 'curves.csv' using 'reaction_momentum_lbf' nooutput
y_high = 1.12 * STATS_max

# of sprays, or of smooth bores
of(p, value) = (stringcolumn('kind') eq 'spray') == p ? value : NaN
# what a curve is stands at its end; the rest is put aside, not undefined: gnuplot 5.4 fails on texts
# that all are
ends(p, value) = (stringcolumn('kind') eq 'spray') == p && value == end ? value : -1e6
opening(kind) = kind eq 'spray' ? sprintf('%.4g %s', flow_size * column('flow_rule_gpm'), flow_unit) \
                                : sprintf('%.4g %s', tip_size * column('tip_in'), tip_unit)
pressure(value) = pressure_size * value
force(value) = force_size * value
x_high = pressure(x_high)
y_high = force(y_high)

y_name = 'reaction, '.force_unit
x_name = 'pressure at the nozzle, '.pressure_unit

if (format eq 'dumb') {
    set title wrap(heading_1, columns - 4)
    set xlabel x_name
    set ylabel force_unit
    set xrange [0:x_high]
    set yrange [0:y_high]
    set tics nomirror
    set key outside below
    plot 'curves.csv' using (pressure(column('pressure_psi'))):(force(of(0, column('reaction_momentum_lbf')))) with lines title 'smooth bores', \
         '' using (pressure(column('pressure_psi'))):(force(of(1, column('reaction_momentum_lbf')))) with lines title 'fog or straight-stream nozzles'
    exit
}

# a slide has one kind
if (slide && has_bore) { has_spray = 0 }
panels = has_bore + has_spray
set multiplot
set xrange [0:x_high]
set yrange [0:y_high]
set grid x y lc rgb ink_grid lt 1 lw 1
set xlabel x_name
shown = 0
do for [p = 0:1] {
    if (p == 0 ? has_bore : has_spray) {
        set lmargin at screen (shown == 0 ? 0.085 : 0.53)
        set rmargin at screen (panels == 1 ? 0.93 : (shown == 0 ? 0.47 : 0.93))
        if (shown == 0) { @name_y } else { unset label }
        set tmargin at screen panel_top - (slide ? 0 : 0.04)
        set bmargin at screen (slide ? 0.27 : 0.19)
        set label 3 (p == 0 ? 'Smooth bores' : 'Fog or straight-stream nozzles') at graph (slide ? 0.02 : 0), graph (slide ? 0.94 : 1.04) left font bold front
        set format y (shown == 0 ? '% h' : '')
        plot 'curves.csv' using (pressure(column('pressure_psi'))):(force(of(p, column('reaction_momentum_lbf')))) \
                 with lines lw 3 * thick lc rgb role_good notitle, \
             '' using (pressure(column('pressure_psi'))):(force(of(p, column('reaction_rule_lbf')))) with lines lw 2.5 * thick dt 2 lc rgb ink notitle, \
             'nozzle.csv' using (pressure(column('pressure_psi'))):(force(of(p, column('reaction_rule_lbf')))) \
                 with points pt 7 ps 1.3 * dot lc rgb ink notitle, \
             'curves.csv' using (pressure(ends(p, column('pressure_psi')))):(force(column('reaction_momentum_lbf'))):(opening(stringcolumn('kind'))) \
                 with labels right offset -0.5,0.7 font small noenhanced notitle
        shown = shown + 1
    }
}

unset label; unset border; unset tics; unset grid; unset xlabel; unset ylabel
set lmargin at screen 0.03; set rmargin at screen 0.97
set tmargin at screen (slide ? 0.12 : 0.09); set bmargin at screen 0.02
set xrange [0:1]; set yrange [0:1]
set key inside center center horizontal Left reverse samplen 2.5 width (slide ? -2 : 1) maxrows (slide ? 2 : 1) font small
plot NaN with lines lw 3 * thick lc rgb role_good title 'by the momentum of the jet', \
     NaN with lines lw 2.5 * thick dt 2 lc rgb ink title 'by the rule of the fire service', \
     NaN with points pt 7 ps 1.3 * dot lc rgb ink title 'the nozzle asked about'
unset multiplot
