# feed.gp - voltage at the controller while the axes run, against the length of the feed, for several
# conductors, with the voltage floor.
#
#   slewtime feed truck.yaml --csv > feed.csv
#   gnuplot -e "format='png'" feed.gp > feed.png
#
# Reads from the current directory
#   feed.csv    one row for each conductor and length, as `slewtime feed --csv` writes it; of its
#               columns ladder, size, length_m, idle_voltage_V, what is left while running, as it
#               is, cold and hot: lowest_running_V, weather_cold_feed_lowest_running_V,
#               weather_hot_feed_lowest_running_V, and at the start: lowest_starting_V
# Variables, passed by -e, all optional: those of common.gp, and
#   ladder      'AWG', 'class 5' or 'class 2': whose sizes are shown
#   sizes, size_1, size_2 ...        how many, up to 5, and which, thickest first
#   own_size, own_length             the scenario's own conductor and length [m]
#   weather     what the band around its curve spans: its voltage when it is cold, as it is and hot
#   floor_voltage                    drawn as a line [V]
#   length_unit, length_size         in which lengths are shown, 'ft', and how many m it has
# The picture goes to stdout.

if (!exists("ladder"))    ladder = 'AWG'
if (!exists("sizes"))     { sizes = 5; size_1 = '2 AWG'; size_2 = '6 AWG'; size_3 = '10 AWG'; \
                            size_4 = '14 AWG'; size_5 = '18 AWG' }
if (!exists("length_unit")) { length_unit = 'm'; length_size = 1.0 }
if (!exists("own_size"))  own_size = 'conductor'
if (!exists("weather"))   weather = 'cold to hot'
if (!exists("heading_1")) heading_1 = 'Voltage at the controller while running'
findings = 2
load system("dirname '".ARG0."'")."/common.gp"

set datafile missing ''
stats 'feed.csv' using 'length_m' nooutput
longest = STATS_max / length_size
own_length = exists("own_length") ? own_length / length_size : longest / 2
shown(m) = m / length_size

least(a, b) = a < b ? a : b
most(a, b) = a > b ? a : b

# a column of the scenario's own conductor, or of one size; elsewhere undefined
own(c) = stringcolumn('ladder') eq 'own' && strlen(stringcolumn(c)) > 0 ? column(c) : NaN
of(size, c) = stringcolumn('ladder') eq ladder && stringcolumn('size') eq size && \
              strlen(stringcolumn(c)) > 0 ? column(c) : NaN

# from below the floor and the scenario's own curve, within reason, to the voltage at rest
stats 'feed.csv' using 'idle_voltage_V' nooutput
high = STATS_max
if (exists("floor_voltage")) { high = most(high, floor_voltage) }
low = exists("floor_voltage") ? floor_voltage : 0.9 * high
note(v) = v == v ? (low = least(low, v), v) : high
stats 'feed.csv' using (note(own('lowest_running_V')), note(own('lowest_starting_V'))) nooutput
low = most(low, exists("floor_voltage") ? 0.75 * floor_voltage : high / 2)
y_low = low - (slide ? 0.34 : 0.18) * (high - low)
y_high = high + 0.05 * (high - low)

set xrange [0 : longest]
set yrange [y_low : y_high]
set xlabel 'length of the feed cable, one way, '.length_unit
y_name = 'controller voltage while running, V'

if (format eq 'dumb') {
    set title wrap(heading_1, columns - 4)."\n".wrap(heading_2, columns - 4)
    set ylabel y_name
    set key outside below
    plot 'feed.csv' using (shown(column('length_m'))):(own('lowest_running_V')) with lines title own_size, \
         '' using (shown(column('length_m'))):(own('lowest_starting_V')) with lines title 'its dip at the start', \
         for [i = 1 : sizes] '' using (shown(column('length_m'))):(of(value('size_'.i), 'lowest_running_V')) with lines \
             title value('size_'.i), \
         exists("floor_voltage") ? floor_voltage : NaN with lines title 'minimum voltage'
    exit
}

# each line is called by its name where it leaves the picture, at the right or below; names that would
# stand on each other are moved apart
names = sizes + 2
array at_x[names]; array at_y[names]; array called[names]; array order[names]
do for [i = 1 : names] {
    at_x[i] = 0; at_y[i] = y_high
    called[i] = i == names ? 'its dip at start' : i == sizes + 1 ? 'this: '.own_size : value('size_'.i)
    leave(x, v) = v == v && v >= y_low && x > at_x[i] ? (at_x[i] = x, at_y[i] = v, v) : v
    if (i > sizes) {
        figure = i == names ? 'lowest_starting_V' : 'lowest_running_V'
        stats 'feed.csv' using (shown(column('length_m'))):(leave(shown(column('length_m')), own(figure))) nooutput
    } else { stats 'feed.csv' using (shown(column('length_m'))):(leave(shown(column('length_m')), of(called[i], 'lowest_running_V'))) nooutput }
    order[i] = i
}
pitch = 1.25 * pixels(text_points) / H / (panel_top - (slide ? 0.2 : 0.14)) * (y_high - y_low)
array place[names]
do for [i = 1 : names] { place[i] = at_x[i] > 0.99 * longest ? at_y[i] : NaN }
do for [round = 1 : 60] {
    do for [i = 1 : names] {
        do for [j = 1 : names] {
            if (i != j && abs(place[i] - place[j]) < pitch && (place[i] > place[j] || (place[i] == place[j] && i < j))) {
                lack = (pitch - (place[i] - place[j])) / 2
                place[i] = place[i] + lack; place[j] = place[j] - lack
            }
        }
        if (place[i] < y_low) { place[i] = y_low }
    }
}

set lmargin at screen 0.095; set rmargin at screen (slide ? 0.77 : 0.83)
@name_y; set bmargin at screen (slide ? 0.2 : 0.14)
set arrow 1 from own_length, graph 0 to own_length, graph 1 nohead @line_wanted front
set label 4 sprintf('this feed: %.3g '.length_unit, own_length) at own_length, graph 0.97 left offset 0.7,0 font text front
if (exists("floor_voltage")) {
    set object 1 rectangle from graph 0, graph 0 to graph 1, first floor_voltage behind fc rgb role_wrong fs transparent solid 0.08 noborder
    set label 5 sprintf('minimum voltage %.4g V', floor_voltage) at graph 0.012, first floor_voltage \
        left offset 0,-0.9 font text tc rgb ink_trouble front boxed
}
do for [i = 1 : names] {
    if (place[i] == place[i]) {
        set label (10 + i) called[i] at graph 1, first place[i] left offset 0.8,0 noenhanced font (i == sizes + 1 ? bold : text) tc rgb (i > sizes ? ink : ink_of(i))
    } else {
        set label (10 + i) called[i] at first at_x[i], first y_low left offset 0.6,0.7 noenhanced font (i == sizes + 1 ? bold : text) tc rgb (i > sizes ? ink : ink_of(i)) front
    }
}
set label 3 'gray: this feed at '.weather.'; the dip is overstated, motor inductance is left out' at screen 24.0 / W, (slide ? 0.03 : 0.02) left font small tc rgb ink_quiet

plot 'feed.csv' using (shown(column('length_m'))): \
         (least(least(own('lowest_running_V'), own('weather_cold_feed_lowest_running_V')), \
                own('weather_hot_feed_lowest_running_V'))): \
         (most(most(own('lowest_running_V'), own('weather_cold_feed_lowest_running_V')), \
               own('weather_hot_feed_lowest_running_V'))) \
         with filledcurves @fill_between notitle, \
     '' using (shown(column('length_m'))):(own('lowest_running_V')) with lines lw 6 * thick lc rgb ink notitle, \
     '' using (shown(column('length_m'))):(own('lowest_starting_V')) with lines lw 3 * thick dt (3,6) lc rgb ink notitle, \
     for [i = 1 : sizes] '' using (shown(column('length_m'))):(of(value('size_'.i), 'lowest_running_V')) with linespoints lw 2.5 * thick \
         dt i + 1 pt symbol_of(i) ps 1.4 * dot pi 5 lc rgb ink_of(i) notitle, \
     exists("floor_voltage") ? floor_voltage : NaN with lines lc rgb role_wrong lw 4 * thick dt (12,4) notitle
