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
# Variables, passed by -e, all optional
#   format      'png' (1600 x 1000), 'svg', 'pdf', or 'dumb' for a terminal of columns x lines
#   has_bore, has_spray              0: that panel has no rows
#   x_high      highest pressure shown [psi]
#   heading_1, heading_2             what was found, and on what truck
#   origin                           which scenario, small in the corner
# The picture goes to stdout.

if (!exists("format"))    format = 'png'
if (!exists("columns"))   columns = 100
if (!exists("lines"))     lines = 24
if (!exists("heading_1")) heading_1 = 'Reaction of nozzles against pressure'
if (!exists("heading_2")) heading_2 = ''
if (!exists("origin"))    origin = ''
if (!exists("has_bore"))  has_bore = 1
if (!exists("has_spray")) has_spray = 1

set encoding utf8
set datafile separator comma
set datafile columnheaders
stats 'curves.csv' using 'pressure_psi' nooutput
end = STATS_max
if (!exists("x_high"))    x_high = end
stats 'curves.csv' using 'reaction_momentum_lbf' nooutput
y_high = 1.05 * STATS_max

# of sprays, or of smooth bores
of(p, value) = (stringcolumn('kind') eq 'spray') == p ? value : NaN
# what a curve is stands at its end; the rest is put aside, not undefined: gnuplot 5.4 fails on texts
# that all are
ends(p, value) = (stringcolumn('kind') eq 'spray') == p && value == end ? value : -1e6
opening(kind) = kind eq 'spray' ? sprintf('%.4g gpm', column('flow_rule_gpm')) \
                                : sprintf('%.4g in', column('tip_in'))

if (format eq 'dumb') {
    set terminal dumb size columns, lines noenhanced
    set title heading_1
    set xlabel 'pressure at the nozzle, psi'
    set ylabel 'lbf'
    set xrange [0:x_high]
    set yrange [0:y_high]
    set tics nomirror
    set key outside below
    plot 'curves.csv' using 'pressure_psi':(of(0, column('reaction_momentum_lbf'))) with lines title 'smooth bores', \
         '' using 'pressure_psi':(of(1, column('reaction_momentum_lbf'))) with lines title 'sprays'
    exit
}

sans = 'DejaVu Sans'
if (format eq 'png') set terminal pngcairo size 1600,1000 font sans.',18' background rgb 'white'
if (format eq 'svg') set terminal svg size 1600,1000 dynamic fontscale 1.333 font sans.',18' background rgb 'white'
if (format eq 'pdf') set terminal pdfcairo size 16in,10in fontscale 0.8 font sans.',18' background rgb 'white'
dot = format eq 'svg' ? 0.5 : format eq 'pdf' ? 0.75 : 1

bar = 0.06894757293168361   # of a psi
newton = 4.4482216152605    # of a lbf

panels = has_bore + has_spray
set multiplot
set label 1 heading_1 at screen 0.015, 0.962 left noenhanced font sans.' Bold,'.(strlen(heading_1) > 85 ? '18' : '22')
set label 2 heading_2 at screen 0.015, 0.915 left noenhanced font sans.',16' tc rgb '#404040'
set label 9 origin at screen 0.985, 0.018 right noenhanced font sans.',14' tc rgb '#404040'
set xrange [0:x_high]
set yrange [0:y_high]
set x2range [0:x_high * bar]
set y2range [0:y_high * newton]
set border 15 lw 1.5
set xtics nomirror out
set ytics nomirror out
set x2tics nomirror out
set grid x y lc rgb '#e4e4e4' lt 1 lw 1
set xlabel 'pressure at the nozzle, psi'
set x2label 'bar' offset 0,-0.5
unset key
shown = 0
do for [p = 0:1] {
    if (p == 0 ? has_bore : has_spray) {
        set lmargin at screen (shown == 0 ? 0.085 : 0.52)
        set rmargin at screen (panels == 1 ? 0.83 : (shown == 0 ? 0.43 : 0.83))
        set tmargin at screen 0.775
        set bmargin at screen 0.215
        set label 3 (p == 0 ? 'Smooth bores' : 'Sprays') at graph 0, 1.145 left font sans.' Bold,20'
        if (shown == 0) { set label 4 'reaction, lbf' at screen 0.014, 0.495 center rotate }
        set format y (shown == 0 ? '% h' : '')
        if (shown == panels - 1) {
            set y2tics nomirror out offset 5.5,0
            set label 5 'N' at screen 0.985, 0.495 center
        } else {
            unset y2tics
        }
        plot 'curves.csv' using 'pressure_psi':(of(p, column('reaction_momentum_lbf'))) \
                 with lines lw 3 lc rgb '#0072b2' notitle, \
             '' using 'pressure_psi':(of(p, column('reaction_rule_lbf'))) with lines lw 2.5 dt 2 lc rgb '#000000' notitle, \
             'nozzle.csv' using 'pressure_psi':(of(p, column('reaction_rule_lbf'))) \
                 with points pt 7 ps 1.3 * dot lc rgb '#000000' notitle, \
             'curves.csv' using (ends(p, column('pressure_psi'))):'reaction_momentum_lbf':(opening(stringcolumn('kind'))) \
                 with labels left offset 0.5,0 font sans.',14' noenhanced notitle
        unset label 1; unset label 2; unset label 9; unset label 4
        shown = shown + 1
    }
}

unset label; unset border; unset tics; unset grid; unset xlabel; unset ylabel
unset x2tics; unset y2tics; unset x2label
set lmargin at screen 0.03; set rmargin at screen 0.97
set tmargin at screen 0.115; set bmargin at screen 0.01
set xrange [0:1]; set yrange [0:1]
set key inside center center horizontal Left reverse samplen 3.5 width 1 maxrows 1 font sans.',16'
plot NaN with lines lw 3 lc rgb '#0072b2' title 'momentum of the jet', \
     NaN with lines lw 2.5 dt 2 lc rgb '#000000' title 'rule of the fire service', \
     NaN with points pt 7 ps 1.3 * dot lc rgb '#000000' title 'asked'
unset multiplot
