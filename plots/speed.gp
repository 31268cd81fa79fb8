# speed.gp - how fast each axis and direction is, from which battery voltage on it works, and what the
# controller sees, against the battery voltage, with the hardest reaction that was asked about.
#
#   slewtime speed truck.yaml --csv > speed.csv
#   gnuplot -e "format='png'" speed.gp > speed.png
#
# Reads from the current directory
#   speed.csv   one row for each curve and voltage, as `slewtime speed --csv` writes it: occasion,
#               axis, direction and level say which curve; supply_V, slowest_state,
#               slowest_speed_deg_per_s, slowest_voltage_V
#   curves.csv  optional, one row for each curve: occasion, axis, direction, level; needs_starts_V,
#               needs_arrives_V: from where it starts, and gets from stop to stop
# Variables, passed by -e, all optional: those of common.gp, and
#   occasion    whose rows are drawn: 'today' or 'deploy_day'
#   has_curves  1: curves.csv is there; a slide then shows from which voltage on it works
#   axis        'rotation' or 'elevation': this one alone
#   how         the hardest reaction: 'dry', 'nozzle at 102 psi'
#   own         the scenario's battery voltage: marked [V]
#   floor, brownout                  of the controller, drawn as lines [V]
# The picture goes to stdout.

if (!exists("occasion"))   occasion = 'today'
if (!exists("has_curves")) has_curves = 0
if (!exists("axis"))       axis = ''
if (!exists("how"))        how = 'hardest reaction'
if (!exists("heading_1"))  heading_1 = 'How fast, against the battery voltage'
if (!exists("floor"))      floor = NaN
if (!exists("brownout"))   brownout = NaN
if (!exists("own"))        own = NaN
least_voltage = floor
undefine floor
load system("dirname '".ARG0."'")."/common.gp"

name(p) = word('"rotation left" "rotation right" "elevation down" "elevation up"', p + 1)
first = axis eq 'elevation' ? 2 : 0
last = axis eq 'rotation' ? 1 : 3

# a row of the occasion; of one panel and level, in which the axis runs
asked(figure) = stringcolumn('occasion') eq occasion ? column(figure) : NaN
is(p, l) = stringcolumn('occasion') eq occasion && int(column('level')) == l \
           && stringcolumn('axis').' '.stringcolumn('direction') eq name(p)
running(l) = stringcolumn('slowest_state') eq 'runs' || stringcolumn('slowest_state') eq 'runs_on'
run(p, l, figure) = is(p, l) && running(l) ? column(figure) : NaN

stats 'speed.csv' using (asked('level')) nooutput
hardest = int(STATS_max)
stats 'speed.csv' using (asked('supply_V')) nooutput
x_low = STATS_min; x_high = STATS_max
stats 'speed.csv' using (asked('slowest_speed_deg_per_s')) nooutput
speed_high = STATS_max > 0 ? 1.15 * STATS_max : 1
stats 'speed.csv' using (asked('slowest_voltage_V')) nooutput
voltage_low = (brownout < STATS_min && brownout >= x_low - 3 ? brownout : STATS_min) - 0.5
voltage_high = STATS_max + 0.5
set xrange [x_low:x_high]
x_words = 'battery voltage, open circuit, V'
y_name = 'speed, °/s ('.how.')'

if (format eq 'dumb') {
    set title wrap(heading_1, columns - 4)
    set xlabel x_words
    set ylabel "°/s"
    set yrange [0:speed_high]
    set tics nomirror
    set key outside below
    plot for [p = first:last] 'speed.csv' using 'supply_V':(run(p, hardest, 'slowest_speed_deg_per_s')) with linespoints title name(p)
    exit
}

set multiplot
do for [p = 0:3] { eval sprintf('curve_%d = "lw 3 * thick dt %d lc rgb ink_of(%d) pt symbol_of(%d) ps 1.1 * dot"', p, p + 1, p, p) }
is_shown(p) = p >= first && p <= last
curve(p, figure) = is_shown(p) ? run(p, hardest, figure) : NaN
courses(figure) = sprintf("'speed.csv' using 'supply_V':(curve(0, '%s')) with linespoints @curve_0, '' using 'supply_V':(curve(1, '%s')) with linespoints @curve_1, '' using 'supply_V':(curve(2, '%s')) with linespoints @curve_2, '' using 'supply_V':(curve(3, '%s')) with linespoints @curve_3", figure, figure, figure, figure)
courses_speed = courses('slowest_speed_deg_per_s')
courses_voltage = courses('slowest_voltage_V')
this = "set arrow 1 from first own, graph 0 to first own, graph 1 nohead @line_wanted front; set label 8 sprintf('this truck: %.4g V', own) at first own, graph 1 right offset -0.5,-0.7 font small front"
has_own = own >= x_low && own <= x_high

inside(v) = v != v || v > x_high ? x_high : v < x_low ? x_low : v
row(p) = is(p, hardest) ? p : NaN
starts = "inside(column('needs_starts_V'))"
arrives = "inside(column('needs_arrives_V'))"
some_do_not_start = 0; some_do_not_arrive = 0
if (has_curves) {
    stats 'curves.csv' using (int(column('level')) == hardest && inside(column('needs_starts_V')) > x_low ? 1 : 0) nooutput
    some_do_not_start = STATS_max > 0
    stats 'curves.csv' using (int(column('level')) == hardest && inside(column('needs_arrives_V')) > inside(column('needs_starts_V')) ? 1 : 0) nooutput
    some_do_not_arrive = STATS_max > 0
}
bars_alone = slide && has_curves
middle = (panel_top + 0.19) / 2

# ---- how fast ----
if (!bars_alone) {
    set lmargin at screen (slide ? 0.08 : 0.07); set rmargin at screen (slide ? 0.97 : 0.46)
    @name_y; set bmargin at screen (slide ? 0.27 : 0.19)
    set yrange [0:speed_high]
    set xlabel x_words
    if (has_own) { @this }
    plot @courses_speed
    unset label
}

# ---- from which voltage on it works ----
if (has_curves) {
    y_name = 'from which battery voltage on it works ('.how.')'
    if (bars_alone) {
        set lmargin at screen 0.21; set rmargin at screen 0.965
        @name_y; set bmargin at screen 0.27
        set xlabel x_words
    } else {
        set lmargin at screen 0.615; set rmargin at screen 0.975
        set tmargin at screen panel_top; set bmargin at screen middle + 0.07
        set label 1 'from which battery voltage on it works' at graph 0, graph 1 left offset 0,0.8 font text
        unset xlabel
    }
    set yrange [last + 0.6:first - (bars_alone ? 1.1 : 0.6)]
    set ytics ('rotation left' 0, 'rotation right' 1, 'elevation down' 2, 'elevation up' 3) scale 0
    if (has_own) { @this; if (!bars_alone) { unset label 8 } }
    if (bars_alone && has_own && own < (x_low + x_high) / 2) { set label 8 left offset 0.5,-0.7 }
    plot for [p = first:last] 'curves.csv' using (row(p)):(row(p)):(x_low):(@starts):(row(p) - 0.3):(row(p) + 0.3) with boxxyerror @fill_wrong, \
         for [p = first:last] '' using (row(p)):(row(p)):(@starts):(@arrives):(row(p) - 0.3):(row(p) + 0.3) with boxxyerror @fill_warning, \
         for [p = first:last] '' using (row(p)):(row(p)):(@arrives):(x_high):(row(p) - 0.3):(row(p) + 0.3) with boxxyerror @fill_good
    unset label
}

# ---- what the controller sees ----
if (!slide) {
    set lmargin at screen 0.615; set rmargin at screen 0.975
    set tmargin at screen middle - 0.01; set bmargin at screen 0.19
    set label 1 'lowest voltage at the controller, V' at graph 0, graph 1 left offset 0,0.8 font text
    set yrange [voltage_low:voltage_high]
    unset ytics; set ytics nomirror out font small
    set xlabel x_words
    if (least_voltage > voltage_low && least_voltage < voltage_high) {
        set arrow 2 from graph 0, first least_voltage to graph 1, first least_voltage nohead @line_warning
        set label 5 'minimum voltage' at graph 0.98, first least_voltage offset 0,-0.7 right font small
    }
    if (brownout > voltage_low && brownout < voltage_high) {
        set arrow 3 from graph 0, first brownout to graph 1, first brownout nohead @line_wrong
        set label 6 'brownout' at graph 0.98, first brownout offset 0,0.7 right font small tc rgb ink_trouble
    }
    plot @courses_voltage
    unset label
}

# the key, as wide as the picture, with what is there
unset label; unset arrow; unset border; unset tics; unset grid; unset xlabel; unset ylabel
set lmargin at screen 0.03; set rmargin at screen 0.97
set tmargin at screen (slide ? 0.13 : 0.11); set bmargin at screen 0.03
set xrange [0:1]; set yrange [0:1]
set key inside center center horizontal Left reverse samplen 2.5 width (slide ? 3 : 1) maxrows 2 font small
seen(is) = is ? NaN : 1 / 0
called(is, words) = is ? words : ''
plot seen(!bars_alone && is_shown(0)) with linespoints @curve_0 title called(!bars_alone && is_shown(0), name(0)), \
     seen(!bars_alone && is_shown(1)) with linespoints @curve_1 title called(!bars_alone && is_shown(1), name(1)), \
     seen(!bars_alone && is_shown(2)) with linespoints @curve_2 title called(!bars_alone && is_shown(2), name(2)), \
     seen(!bars_alone && is_shown(3)) with linespoints @curve_3 title called(!bars_alone && is_shown(3), name(3)), \
     seen(some_do_not_start) with boxes @fill_wrong title called(some_do_not_start, 'does not start'), \
     seen(some_do_not_arrive) with boxes @fill_warning title called(some_do_not_arrive, 'starts, does not arrive'), \
     seen(has_curves) with boxes @fill_good title called(has_curves, 'goes from stop to stop')
unset multiplot
