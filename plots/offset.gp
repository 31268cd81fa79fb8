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
#   drivers.csv  with `bars` alone: words, of (what is drawn, and for what), first, total (indices, 0
#                to 1); the greatest total first
# Variables, passed by -e, all optional: those of common.gp, and
#   axis        'elevation' or 'rotation': whose seconds and angles are shown
#   beside      seconds of the other axis: only the rows with these are shown
#   chosen      seconds of the best choice: marked
#   needed      seconds that would do, where none of the choices do: marked
#   target_low, target_high          of the deploy [deg]
#   bars        how many rows of drivers.csv are shown; 0: no second panel, as on a slide
# The picture goes to stdout.

if (!exists("axis"))      axis = 'elevation'
if (!exists("bars"))      bars = 0
if (!exists("chosen"))    chosen = NaN
if (!exists("needed"))    needed = NaN
if (!exists("heading_1")) heading_1 = 'Where the '.axis.' rests after the deploy'
load system("dirname '".ARG0."'")."/common.gp"
if (slide) { bars = 0 }

own = 'seconds_'.axis
other = 'seconds_'.(axis eq 'elevation' ? 'rotation' : 'elevation')
lowest = axis.'_lowest_deg'; p05 = axis.'_p05_deg'; median = axis.'_median_deg'
p95 = axis.'_p95_deg'; highest = axis.'_highest_deg'
stats 'offset.csv' using (column(other)) nooutput
if (!exists("beside")) beside = STATS_min
of(value) = abs(column(other) - beside) < 1e-9 ? value : NaN
stats 'offset.csv' using (of(column(own))) nooutput
records = STATS_records
x_low = STATS_min; x_high = STATS_max
step = records > 1 ? (x_high - x_low) / (records - 1.0) : 1
# a slide has room for seven choices, those around the chosen one
if (slide && records > 7 && chosen == chosen) {
    x_low = chosen - 3 * step > x_low ? chosen - 3 * step : x_low
    x_high = x_low + 6 * step
    records = 7
}
# where there is no room for a share above each choice, every second or third has one
every_share = ceil(records / (slide ? 8.0 : bars > 0 ? 9.0 : 14.0))
pad = 0.7 * step
half = 0.45 * step
shown(value) = column(own) > x_low - half && column(own) < x_high + half ? of(value) : NaN
stats 'offset.csv' using (shown(column(lowest))) nooutput
y_low = STATS_min
stats 'offset.csv' using (shown(column(highest))) nooutput
y_high = STATS_max
if (!exists("target_low"))  target_low = y_low
if (!exists("target_high")) target_high = y_high
y_low = (y_low < target_low ? y_low : target_low)
y_high = (y_high > target_high ? y_high : target_high)
y_pad = 0.1 * (y_high > y_low ? y_high - y_low : 1)
if (needed == needed && (needed > x_high || needed < x_low)) {
    x_high = needed > x_high ? needed : x_high
    x_low = needed < x_low ? needed : x_low
}

set xlabel 'deploy seconds set, '.axis.', s'
y_name = axis.' at rest, °'
set xrange [x_low - pad : x_high + pad]
set yrange [y_low - 2.2 * y_pad : y_high + 2.2 * y_pad]
set boxwidth half
share(value) = int(column(0)) % every_share == 0 || abs(column(own) - chosen) < 1e-9 ? value : NaN
is_chosen(value) = abs(column(own) - chosen) < 1e-9 ? shown(value) : NaN
percent(p) = p > 0 && p < 0.01 ? '<1 %' : p > 0.99 && p < 1 ? '>99 %' : sprintf('%.0f %%', 100 * p)

if (format eq 'dumb') {
    set title wrap(heading_1, columns - 4)
    set ylabel y_name
    set key outside below
    plot 'offset.csv' using (of(column(own))):(column(p05)):(column(lowest)):(column(highest)):(column(p95)) \
             with candlesticks title '5 to 95 % of days', \
         target_low with lines dt 2 title 'target', target_high with lines dt 2 notitle, \
         '' using (is_chosen(column(own))):(column(median)) with points pt 'X' title 'X chosen'
    exit
}

set multiplot
set lmargin at screen 0.085
set rmargin at screen (bars > 0 ? 0.63 : 0.97)
@name_y; set bmargin at screen (slide ? 0.235 : 0.18)
set style fill solid 0.55 border lc rgb role_good
set object 1 rectangle from graph 0, first target_low to graph 1, first target_high behind @fill_target
set label 1 'target' at graph 0.01, first target_high offset 0,-0.8 left font text tc rgb ink_quiet
if (needed == needed) {
    set arrow 1 from first needed, graph 0 to first needed, graph 1 nohead @line_wanted front
    set label 2 sprintf('%.2f s would do', needed) at first needed, graph 0.04 right offset -0.6,0 font bold front
}
set label 5 'box: 5 to 95 % of days; %: of days inside' at screen 24.0 / W, (slide ? 0.045 : 0.07) left font small tc rgb ink_quiet
plot 'offset.csv' using (shown(column(own))):(column(p05)):(column(lowest)):(column(highest)):(column(p95)) \
         with candlesticks whiskerbars 0.5 fc rgb role_good lc rgb role_good lw 2 * thick notitle, \
     '' using (is_chosen(column(own))):(column(p05)):(column(lowest)):(column(highest)):(column(p95)) \
         with candlesticks whiskerbars 0.5 fs empty border lc rgb ink lc rgb ink lw 3.5 * thick notitle, \
     '' using (shown(column(own))):(column(median)):(half / 2) \
         with xerrorbars pt 7 ps 1.2 * dot lc rgb ink lw 2.5 * thick notitle, \
     '' using (share(shown(column(own)))):(column(highest)):(percent(column('inside'))) \
         with labels offset 0,1 font text tc rgb ink notitle, \
     '' using (is_chosen(column(own))):(column(lowest)):('chosen') with labels offset 0,-1 font bold tc rgb ink notitle

if (bars > 0) {
    # one bar for each drawn number, its name above it: first order (what is gone of the variance if it
    # were fixed) inside total (what is left of it if only that varies)
    unset label; unset object; unset arrow; unset ylabel; unset ytics; unset grid
    set lmargin at screen 0.67; set rmargin at screen 0.965
    set border 1
    set grid xtics lc rgb ink_grid
    set xlabel 'share of the variance, %'
    set xrange [0:105]
    set xtics 0, 25, 100
    set yrange [6 : -0.75]
    set label 4 'What changes the '.axis.' most' at graph 0, 1.0 left font bold noenhanced
    set key at screen 0.82, 0.07 center vertical Left reverse samplen 1.5 width 1 maxrows 2
    # an index found a little above its total, or below 0, is so by chance
    within(first, total) = first > total ? total : first < 0 ? 0 : first
    plot 'drivers.csv' every ::0::(bars - 1) using (0):0:(0):(100 * column('total')):(column(0) + 0.08):(column(0) + 0.42) \
             with boxxyerror fc rgb role_target fs solid 1 border lc rgb ink title 'spread left if only this varies', \
         '' every ::0::(bars - 1) using (0):0:(0):(100 * within(column('first'), column('total'))):(column(0) + 0.16):(column(0) + 0.34) \
             with boxxyerror fc rgb ink_elevation fs solid 1 border lc rgb ink title 'spread gone if this were fixed', \
         '' every ::0::(bars - 1) using (0):(column(0) - 0.12):(brief(sprintf("%s, %s", stringcolumn('words'), stringcolumn('of')), 42)) \
             with labels left offset 0.2,0 font small noenhanced notitle, \
         '' every ::0::(bars - 1) using (100 * column('total')):(column(0) + 0.25):(sprintf("%.0f", 100 * column('total'))) \
             with labels left offset 0.6,0 font text notitle
}
unset multiplot
