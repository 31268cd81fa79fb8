# feed.gp - voltage at the controller while the axes run, against the length of the feed, for several
# conductors, with the voltage floor.
#
#   slewtime feed truck.yaml --csv > feed.csv
#   gnuplot -e "format='png'" feed.gp > feed.png
#
# Reads from the current directory
#   feed.csv    one row for each conductor and length, as `slewtime feed --csv` writes it; of its
#               columns ladder, size, length_m, idle_voltage_V, and what is left while running, as it
#               is, cold and hot: lowest_running_V, weather_cold_feed_lowest_running_V,
#               weather_hot_feed_lowest_running_V
# Variables, passed by -e, all optional
#   format      'png' (1600 x 1000), 'svg', 'pdf', or 'dumb' for a terminal of columns x lines
#   ladder      'AWG', 'class 5' or 'class 2': whose sizes are shown
#   sizes, size_1, size_2 ...        how many, up to 5, and which, thickest first
#   own_size, own_length             the scenario's own conductor and length [m]
#   weather     what the band around its curve spans: its voltage when it is cold, as it is and hot
#   floor_voltage                    drawn as a line [V]
#   heading_1, heading_2, heading_3  what was found, in two lines, and on what truck
#   origin                           which scenario, small in the corner
# The picture goes to stdout.

if (!exists("format"))    format = 'png'
if (!exists("columns"))   columns = 100
if (!exists("lines"))     lines = 26
if (!exists("ladder"))    ladder = 'AWG'
if (!exists("sizes"))     { sizes = 5; size_1 = '2 AWG'; size_2 = '6 AWG'; size_3 = '10 AWG'; \
                            size_4 = '14 AWG'; size_5 = '18 AWG' }
if (!exists("own_size"))  own_size = 'conductor'
if (!exists("weather"))   weather = 'cold to hot'
if (!exists("heading_1")) heading_1 = 'Voltage at the controller while running'
if (!exists("heading_2")) heading_2 = ''
if (!exists("heading_3")) heading_3 = ''
if (!exists("origin"))    origin = ''

set encoding utf8
set datafile separator comma
set datafile missing ''
set datafile columnheaders
stats 'feed.csv' using 'length_m' nooutput
longest = STATS_max
if (!exists("own_length")) own_length = longest / 2

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
stats 'feed.csv' using (note(own('lowest_running_V'))) nooutput
low = most(low, exists("floor_voltage") ? 0.75 * floor_voltage : high / 2)

if (format eq 'png') set terminal pngcairo size 1600,1000 font 'sans,20' background 'white'
if (format eq 'svg') set terminal svg size 1600,1000 font 'sans,20' background 'white'
if (format eq 'pdf') set terminal pdfcairo size 32cm,20cm font 'sans,16' background 'white'
if (format eq 'dumb') set terminal dumb size columns, lines

set xrange [0 : longest]
set yrange [low - 0.12 * (high - low) : high + 0.05 * (high - low)]
set xlabel 'length of the feed, one way, m'
set ylabel 'at the controller while running, V'
set border 3
set tics nomirror
set grid ytics lc rgb '#dddddd'

if (format eq 'dumb') {
    set title heading_1 noenhanced
    set key outside below
    plot 'feed.csv' using 'length_m':(own('lowest_running_V')) with lines title own_size, \
         for [i = 1 : sizes] '' using 'length_m':(of(value('size_'.i), 'lowest_running_V')) with lines \
             title value('size_'.i), \
         exists("floor_voltage") ? floor_voltage : NaN with lines title 'floor'
    exit
}

set label 1 heading_1 at screen 0.03, 0.96 left font ',26' noenhanced
set label 2 heading_2 at screen 0.03, 0.91 left font ',26' noenhanced
set label 3 heading_3 at screen 0.03, 0.862 left font ',16' noenhanced textcolor rgb '#444444'
set label 99 origin at screen 0.985, 0.018 right font ',14' noenhanced textcolor rgb '#444444'
set lmargin at screen 0.1; set rmargin at screen 0.735
set tmargin at screen 0.82; set bmargin at screen 0.12
set key at screen 0.75, 0.82 left top Left reverse vertical samplen 3.5 spacing 1.35 noenhanced

set arrow 1 from own_length, graph 0 to own_length, graph 1 nohead dt 3 lw 3 lc rgb '#555555' front
set label 4 sprintf('this feed: %.4g m', own_length) at own_length, graph 0.96 left offset 0.7,0 \
    font ',20' front
if (exists("floor_voltage")) {
    set label 5 sprintf('floor %.4g V', floor_voltage) at graph 0.012, first floor_voltage \
        left offset 0,-0.7 font ',22' textcolor rgb '#c00000' front
}

colours = '#0072b2 #d55e00 #009e73 #cc79a7 #8a6d00'
dashes = '2 4 5 3 6'
points = '5 7 9 11 13'

plot 'feed.csv' using 'length_m': \
         (least(least(own('lowest_running_V'), own('weather_cold_feed_lowest_running_V')), \
                own('weather_hot_feed_lowest_running_V'))): \
         (most(most(own('lowest_running_V'), own('weather_cold_feed_lowest_running_V')), \
               own('weather_hot_feed_lowest_running_V'))) \
         with filledcurves fc rgb '#d4d4d4' title 'this, '.weather, \
     '' using 'length_m':(own('lowest_running_V')) with lines lw 6 lc rgb '#000000' title 'this: '.own_size, \
     for [i = 1 : sizes] '' using 'length_m':(of(value('size_'.i), 'lowest_running_V')) with linespoints lw 3 \
         dt int(word(dashes, i)) pt int(word(points, i)) ps 1.6 pi 5 lc rgb word(colours, i) \
         title value('size_'.i), \
     exists("floor_voltage") ? floor_voltage : NaN with lines lw 4 lc rgb '#c00000' title 'floor'
