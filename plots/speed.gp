# speed.gp - speed, current and controller voltage of each axis and direction against the source
# voltage, a curve for each reaction.
#
#   slewtime speed truck.yaml --csv > speed.csv
#   gnuplot -e "format='png'" speed.gp > speed.png
#
# Reads from the current directory
#   speed.csv   one row for each curve and voltage, as `slewtime speed --csv` writes it: occasion,
#               axis, direction and level say which curve; pressure_bar, supply_V, slowest_state,
#               slowest_speed_deg_per_s, fastest_speed_deg_per_s, slowest_current_A,
#               slowest_voltage_V
#   curves.csv  optional, one row for each curve: occasion, axis, direction, level; needs_starts_V,
#               needs_arrives_V: from where it starts, and gets from stop to stop
# Variables, passed by -e, all optional
#   format      'png' (1600 x 1100), 'svg', 'pdf', or 'dumb' for a terminal of columns x lines
#   occasion    whose rows are drawn: 'today' or 'deploy_day'
#   has_curves  1: curves.csv is there
#   own         the scenario's source voltage: marked [V]
#   stall, floor, brownout           thresholds drawn as lines [A], [V], [V]
#   heading_1, heading_2             what was found, and on what truck
#   origin                           which scenario, small in the corner
# The picture goes to stdout.

if (!exists("format"))     format = 'png'
if (!exists("columns"))    columns = 100
if (!exists("lines"))      lines = 24
if (!exists("occasion"))   occasion = 'today'
if (!exists("has_curves")) has_curves = 0
if (!exists("heading_1"))  heading_1 = 'Speed, current and voltage against the source voltage'
if (!exists("heading_2"))  heading_2 = ''
if (!exists("origin"))     origin = ''
if (!exists("stall"))      stall = NaN
if (!exists("floor"))      floor = NaN
if (!exists("brownout"))   brownout = NaN
if (!exists("own"))        own = NaN

set encoding utf8
set datafile separator comma
set datafile columnheaders

name(p) = word('"rotation left" "rotation right" "elevation down" "elevation up"', p + 1)

# a row of the occasion; of one panel and level, in which the axis runs; where it stands
asked(figure) = stringcolumn('occasion') eq occasion ? column(figure) : NaN
is(p, l) = stringcolumn('occasion') eq occasion && int(column('level')) == l \
           && stringcolumn('axis').' '.stringcolumn('direction') eq name(p)
running(l) = stringcolumn('slowest_state') eq 'runs' || stringcolumn('slowest_state') eq 'runs_on'
run(p, l, figure) = is(p, l) && running(l) ? column(figure) : NaN
rest(p, l, figure) = is(p, l) && !running(l) ? column(figure) : NaN

stats 'speed.csv' using (asked('level')) nooutput
levels = int(STATS_max) + 1
titles = ''
do for [l = 0:levels-1] {
    stats 'speed.csv' using (is(0, l) ? column('pressure_bar') : NaN) nooutput
    titles = titles.(STATS_max > 0 ? sprintf('"at %.4g bar" ', STATS_max) : 'dry ')
}
stats 'speed.csv' using (asked('supply_V')) nooutput
x_low = STATS_min; x_high = STATS_max
stats 'speed.csv' using (asked('fastest_speed_deg_per_s')) nooutput
speed_high = STATS_max > 0 ? 1.1 * STATS_max : 1
stats 'speed.csv' using (asked('slowest_current_A')) nooutput
current_low = STATS_min < 0 ? 1.1 * STATS_min : 0
current_high = 1.12 * (stall > STATS_max ? stall : STATS_max)
stats 'speed.csv' using (asked('slowest_voltage_V')) nooutput
voltage_low = (brownout < STATS_min && brownout >= x_low - 3 ? brownout : STATS_min) - 0.5
voltage_high = STATS_max + 0.5

if (format eq 'dumb') {
    set terminal dumb size columns, lines noenhanced
    set title heading_1
    set xlabel 'source voltage, V'
    set ylabel "deg/s"
    set xrange [x_low:x_high]
    set yrange [0:speed_high]
    set tics nomirror
    set key outside right
    plot for [p = 0:3] 'speed.csv' using 'supply_V':(run(p, levels - 1, 'slowest_speed_deg_per_s')) with linespoints title name(p)
    exit
}

sans = 'DejaVu Sans'
if (format eq 'png') set terminal pngcairo size 1600,1100 font sans.',16' background rgb 'white'
if (format eq 'svg') set terminal svg size 1600,1100 dynamic fontscale 1.333 font sans.',16' background rgb 'white'
if (format eq 'pdf') set terminal pdfcairo size 16in,11in fontscale 0.72 font sans.',16' background rgb 'white'
dot = format eq 'svg' ? 0.5 : format eq 'pdf' ? 0.75 : 1

# of the palette for the color-blind of Okabe and Ito, from dark to light
color = "'#000000' '#0072b2' '#d55e00' '#009e73' '#cc79a7' '#56b4e9' '#e69f00' '#999999'"
ink(l) = word(color, l + 1)
dash(l) = l % 4 + 1
mark(l) = int(word('7 5 9 13 6 4 8 12', l + 1))

# where curves.csv is there: from which voltage on it starts, and gets from stop to stop
marks = !has_curves ? '' : \
    ", for [l = 0:levels-1] 'curves.csv' using (is(p, l) ? column('needs_starts_V') : NaN):(0) with points lw 3 lc rgb ink(l) pt 1 ps 2.2 * dot notitle" \
    .", for [l = 0:levels-1] 'curves.csv' using (is(p, l) ? column('needs_arrives_V') : NaN):(0.05 * speed_high) with points lw 2 lc rgb ink(l) pt 10 ps 2.2 * dot notitle"

at_left(p) = 0.075 + 0.232 * p
at_right(p) = at_left(p) + 0.212
top(r) = word('0.855 0.600 0.370', r + 1) + 0
bottom(r) = word('0.630 0.400 0.170', r + 1) + 0

set xrange [x_low:x_high]
set border 3 lw 1.5
set tics nomirror out
set grid lc rgb '#e4e4e4' lt 1 lw 1
unset key
set multiplot
set label 1 heading_1 at screen 0.015, 0.968 left noenhanced font sans.' Bold,'.(strlen(heading_1) > 92 ? '19' : '22')
set label 2 heading_2 at screen 0.015, 0.928 left noenhanced font sans.',16' tc rgb '#404040'
set label 9 origin at screen 0.985, 0.018 right noenhanced font sans.',14' tc rgb '#404040'

do for [r = 0:2] {
    set tmargin at screen top(r)
    set bmargin at screen bottom(r)
    set format x (r == 2 ? '% h' : '')
    if (r == 0) { set yrange [0:speed_high]; quantity = 'speed, deg/s' }
    if (r == 1) { set yrange [current_low:current_high]; quantity = 'current, A' }
    if (r == 2) { set yrange [voltage_low:voltage_high]; quantity = 'at controller, V' }
    do for [p = 0:3] {
        set lmargin at screen at_left(p)
        set rmargin at screen at_right(p)
        set format y (p == 0 ? '% h' : '')
        unset label 3; unset label 4; unset label 5; unset label 6
        if (r == 0) { set label 3 name(p) at graph 0.03, 1.06 left font sans.' Bold,18' }
        if (p == 0) { set label 4 quantity at screen 0.014, (top(r) + bottom(r)) / 2 center rotate font sans.',18' }
        unset arrow
        if (own >= x_low && own <= x_high) {
            set arrow 1 from first own, graph 0 to first own, graph 1 nohead lw 2 dt 4 lc rgb '#707070' back
        }
        if (r == 1 && stall == stall) {
            set arrow 2 from graph 0, first stall to graph 1, first stall nohead lw 2 dt 2 lc rgb '#000000'
            if (p == 0) { set label 5 'declared a stall' at graph 0.03, first stall offset 0,-0.7 left font sans.',14' }
        }
        if (r == 2) {
            if (floor > voltage_low && floor < voltage_high) {
                set arrow 2 from graph 0, first floor to graph 1, first floor nohead lw 2 dt 2 lc rgb '#000000'
                if (p == 0) { set label 5 'floor' at graph 0.03, first floor offset 0,0.6 left font sans.',14' }
            }
            if (brownout > voltage_low && brownout < voltage_high) {
                set arrow 3 from graph 0, first brownout to graph 1, first brownout nohead lw 2 dt 2 lc rgb '#000000'
                if (p == 0) { set label 6 'brownout' at graph 0.97, first brownout offset 0,0.6 right font sans.',14' }
            }
        }
        if (r == 0) {
            plot for [l = 0:levels-1] 'speed.csv' using 'supply_V':(run(p, l, 'slowest_speed_deg_per_s')):(column('fastest_speed_deg_per_s')) \
                     with filledcurves fc rgb ink(l) fs transparent solid 0.12 notitle, \
                 for [l = 0:levels-1] 'speed.csv' using 'supply_V':(run(p, l, 'slowest_speed_deg_per_s')) \
                     with linespoints lw 3 dt dash(l) lc rgb ink(l) pt mark(l) ps 0.9 * dot notitle @marks
        }
        if (r > 0) {
            figure = r == 1 ? 'slowest_current_A' : 'slowest_voltage_V'
            plot for [l = 0:levels-1] 'speed.csv' using 'supply_V':(run(p, l, figure)) \
                     with linespoints lw 3 dt dash(l) lc rgb ink(l) pt mark(l) ps 0.9 * dot notitle, \
                 for [l = 0:levels-1] 'speed.csv' using 'supply_V':(rest(p, l, figure)) \
                     with points lw 3 lc rgb ink(l) pt 2 ps 1.6 * dot notitle
        }
        unset label 1; unset label 2; unset label 9
    }
}

# the key, as wide as the picture
unset label; unset arrow; unset border; unset tics; unset grid; unset xlabel; unset ylabel
set label 1 'source voltage, open circuit, V' at screen 0.53, 0.115 center font sans.',18'
set lmargin at screen 0.03; set rmargin at screen 0.97
set tmargin at screen 0.095; set bmargin at screen 0.01
set xrange [0:1]; set yrange [0:1]
set key inside center center horizontal Left reverse samplen 3.5 width 1 maxcols 5 font sans.',16'
plot for [l = 0:levels-1] NaN with linespoints lw 3 dt dash(l) lc rgb ink(l) pt mark(l) ps 0.9 * dot title word(titles, l + 1), \
     NaN with filledcurves fc rgb '#000000' fs transparent solid 0.12 title 'slowest to fastest place', \
     NaN with points lw 3 lc rgb '#000000' pt 1 ps 2.2 * dot title 'starts from here', \
     NaN with points lw 2 lc rgb '#000000' pt 10 ps 2.2 * dot title 'stop to stop from here', \
     NaN with points lw 3 lc rgb '#000000' pt 2 ps 1.6 * dot title 'stands', \
     NaN with lines lw 2 dt 4 lc rgb '#707070' title 'this scenario'
unset multiplot
