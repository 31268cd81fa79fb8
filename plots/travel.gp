# travel.gp - travel of both axes against time, current and controller voltage below.
#
#   slewtime run truck.yaml --trace trace.csv
#   gnuplot -e "format='png'" travel.gp > travel.png
#
# Reads from the current directory
#   trace.csv   the course of the run, as `slewtime run --trace` writes it; of its columns time_s,
#               rotation_deg, elevation_deg, rotation_A, elevation_A, total_A, voltage_V are read
#   bands.csv   optional: panel,kind,from_s,to_s,low,high - areas behind the curves
#               panel: elevation | rotation; kind: stop | home | point | target | keepout
#   marks.csv   optional: panel,kind,time_s,value,text_s,text_value,end_s,end_value,text - a point on
#               a curve, where its text begins, and where the line between them ends
#               panel: also current | voltage; kind: plain | trouble
#   names.csv   optional: panel,value,text - what the bands are, at the right edge
# Variables, passed by -e, all optional
#   format      'png' (1600 x 1100), 'svg', 'pdf', or 'dumb' for a terminal of columns x lines
#   heading_1, heading_2, heading_3   what was found (two lines), and on what truck
#   origin                            which scenario, small in the corner
#   part_1, part_2   names of the two parts; verdict_1, verdict_2: when each of them ended [s]
#   t_end            end of the time axis [s]
#   elevation_low, elevation_high, rotation_low, rotation_high   ranges [deg]
#   voltage_low, voltage_high, current_low, current_high         ranges [V], [A]
#   stall, floor     thresholds drawn as lines [A], [V]
# The picture goes to stdout.

if (!exists("format"))    format = 'png'
if (!exists("columns"))   columns = 100
if (!exists("lines"))     lines = 20
if (!exists("heading_1")) heading_1 = 'Travel against time'
if (!exists("heading_2")) heading_2 = ''
if (!exists("heading_3")) heading_3 = ''
if (!exists("origin")) origin = ''
if (!exists("part_1"))    part_1 = ''
if (!exists("part_2"))    part_2 = ''

set encoding utf8
set datafile separator comma
set datafile columnheaders
stats 'trace.csv' using 'time_s' nooutput
if (!exists("t_end"))     t_end = STATS_max
stats 'trace.csv' using 'elevation_deg' nooutput
if (!exists("elevation_low"))  elevation_low = STATS_min - 5
if (!exists("elevation_high")) elevation_high = STATS_max + 5
stats 'trace.csv' using 'rotation_deg' nooutput
if (!exists("rotation_low"))   rotation_low = STATS_min - 5
if (!exists("rotation_high"))  rotation_high = STATS_max + 5
stats 'trace.csv' using 'voltage_V' nooutput
if (!exists("voltage_low"))    voltage_low = STATS_min - 0.5
if (!exists("voltage_high"))   voltage_high = STATS_max + 0.5
stats 'trace.csv' using 'total_A' nooutput
if (!exists("current_low"))    current_low = 0
if (!exists("current_high"))   current_high = 1.15 * STATS_max + 1

# a file that is not there, or has no rows, counts as one whose row is of no panel
has_rows(file) = int(system("test -n \"$(sed -n 2p ".file." 2>&-)\" && echo 1 || echo 0"))
present(file, names, nothing) = has_rows(file) ? file : "< printf '".names."\\n".nothing."\\n'"
bands = present("bands.csv", "panel,kind,from_s,to_s,low,high", "none,none,0,0,0,0")
marks = present("marks.csv", "panel,kind,time_s,value,text_s,text_value,end_s,end_value,text", "none,none,0,0,0,0,0,0,none")
names = present("names.csv", "panel,value,text", "none,0,none")
# the number of a column, for texts: read by name, gnuplot 5.4 cuts them at a comma
number(file, name) = int(system((file[1:1] eq '<' ? file[2:*] : 'cat '.file)." | sed -n 1p | tr , '\\n' | grep -nx ".name." | cut -d: -f1"))
mark_text = number(marks, 'text')
name_text = number(names, 'text')

# values of one panel and kind only; elsewhere undefined
only(kind, value) = strcol('panel') eq panel && strcol('kind') eq kind ? value : NaN
here(value) = strcol('panel') eq panel ? value : NaN
# the same for texts: put aside, not undefined, because gnuplot 5.4 fails on texts that all are
text(kind, value) = strcol('panel') eq panel && strcol('kind') eq kind ? value : -t_end
any_text(value) = strcol('panel') eq panel ? value : -t_end

middle(a, b) = (column(a) + column(b)) / 2
from(a, b) = column(b) - column(a)

# ---- in a terminal -----------------------------------------------------------------------------

edges = "\
    bands using (only('stop', column('from_s'))):'low':(from('from_s', 'to_s')):(0) with vectors nohead lt 2, \
    bands using (only('stop', column('from_s'))):'high':(from('from_s', 'to_s')):(0) with vectors nohead lt 2, \
    marks using (any_text(column('text_s'))):'text_value':mark_text with labels left"

if (format eq 'dumb') {
    set terminal dumb size columns, lines noenhanced
    set xrange [0:t_end]
    set tics nomirror
    unset key
    panel = 'elevation'
    set title heading_1
    set ylabel "elevation\ndeg"
    plot [][elevation_low:elevation_high] 'trace.csv' using 'time_s':'elevation_deg' with lines lt 1, @edges
    panel = 'rotation'
    set title heading_2
    set ylabel "rotation\ndeg"
    plot [][rotation_low:rotation_high] 'trace.csv' using 'time_s':'rotation_deg' with lines lt 1, @edges
    panel = 'current'
    unset title
    set xlabel "time, s"
    set ylabel "total\nA"
    plot [][current_low:current_high] 'trace.csv' using 'time_s':'total_A' with lines lt 1, @edges
    exit
}

# ---- the sheet ---------------------------------------------------------------------------------

sans = 'DejaVu Sans'
if (format eq 'png') set terminal pngcairo size 1600,1100 font sans.',16' background rgb 'white'
if (format eq 'svg') set terminal svg size 1600,1100 dynamic fontscale 1.333 font sans.',16' background rgb 'white'
if (format eq 'pdf') set terminal pdfcairo size 16in,11in fontscale 0.72 font sans.',16' background rgb 'white'

dot = format eq 'svg' ? 0.5 : format eq 'pdf' ? 0.75 : 1

blue  = '#0072B2'   # of the palette for the colour-blind of Okabe and Ito
red   = '#D55E00'
green = '#009E73'
grey  = '#707070'

at_left = 0.078; at_right = 0.850
elevation_bottom = 0.575; elevation_top = 0.850
rotation_bottom  = 0.370; rotation_top  = 0.555
current_bottom   = 0.225; current_top   = 0.350
voltage_bottom   = 0.080; voltage_top   = 0.205

set lmargin at screen at_left
set rmargin at screen at_right
set xrange [0:t_end]
set border 3 lw 1.5
set tics nomirror out
set grid xtics lc rgb '#e4e4e4' lt 1 lw 1
set format x ''
unset key

box = "using (only(kind, middle('from_s', 'to_s'))):(middle('low', 'high')):'from_s':'to_s':'low':'high' with boxxyerror"

behind = "\
    kind = 'target',  bands @box fc rgb blue fs solid 0.14 border lc rgb blue, \
    kind = 'point',   bands @box fc rgb green fs solid 0.30 border lc rgb green, \
    kind = 'home',    bands @box fc rgb grey fs empty border lc rgb grey dt 2 lw 1.5, \
    kind = 'keepout', bands @box fc rgb red fs transparent pattern 6 border lc rgb red, \
    kind = 'stop',    bands @box fc rgb '#505050' fs pattern 4 border lc rgb '#303030' lw 2"
front = "\
    marks using (here(column('time_s'))):'value':(from('time_s', 'end_s')):(from('value', 'end_value')) with vectors nohead lc rgb '#404040' lw 1.2, \
    marks using (only('plain', column('time_s'))):'value' with points pt 7 ps 1.3 * dot lc rgb 'black', \
    marks using (only('trouble', column('time_s'))):'value' with points pt 9 ps 2.4 * dot lc rgb 'black', \
    marks using (text('plain', column('text_s'))):'text_value':mark_text with labels left boxed noenhanced tc rgb 'black', \
    marks using (text('trouble', column('text_s'))):'text_value':mark_text with labels left boxed noenhanced tc rgb '#A03000' font bold, \
    names using (any_text(t_end)):'value':name_text with labels left offset 1,0 noenhanced tc rgb '#303030' font small"
spacing(range) = range > 250 ? 100 : range > 120 ? 50 : range > 60 ? 20 : range > 25 ? 10 : 5
bold = sans.' Bold,16'
small = sans.',14'

set style textbox opaque noborder fillcolor rgb 'white' margins 0.4,0.1

set multiplot

# ---- elevation, with the headings --------------------------------------------------------------

set label 1 heading_1 at screen 0.015, 0.968 left noenhanced font sans.' Bold,24'
set label 2 heading_2 at screen 0.015, 0.930 left noenhanced font sans.' Bold,24'
set label 3 heading_3 at screen 0.015, strlen(heading_2) ? 0.897 : 0.935 left noenhanced font small tc rgb '#404040'
set label 9 origin at screen 0.985, 0.018 right noenhanced font small tc rgb '#404040'

if (exists("verdict_1")) {
    set arrow 1 from first verdict_1, screen voltage_bottom to first verdict_1, screen elevation_top \
        nohead lc rgb grey lw 1.5 dt 4
    set label 4 part_1 at first verdict_1, screen elevation_top + 0.013 right noenhanced font small
}
if (exists("verdict_2")) {
    set arrow 2 from first verdict_2, screen voltage_bottom to first verdict_2, screen elevation_top \
        nohead lc rgb grey lw 1.5 dt 4
    set label 5 part_2 at first verdict_2, screen elevation_top + 0.013 right noenhanced font small
    if (exists("verdict_1") && verdict_2 - verdict_1 < 0.2 * t_end) { set label 5 left }
}

panel = 'elevation'
set tmargin at screen elevation_top
set bmargin at screen elevation_bottom
set label 6 'elevation, deg' at screen 0.012, (elevation_top + elevation_bottom) / 2 center rotate
set yrange [elevation_low:elevation_high]
set ytics spacing(elevation_high - elevation_low)
plot @behind, 'trace.csv' using 'time_s':'elevation_deg' with lines lc rgb blue lw 3.5, @front

# ---- rotation ----------------------------------------------------------------------------------

unset label
unset arrow
panel = 'rotation'
set tmargin at screen rotation_top
set bmargin at screen rotation_bottom
set label 6 'rotation, deg' at screen 0.012, (rotation_top + rotation_bottom) / 2 center rotate
set yrange [rotation_low:rotation_high]
set ytics spacing(rotation_high - rotation_low)
plot @behind, 'trace.csv' using 'time_s':'rotation_deg' with lines lc rgb red lw 3.5 dt (12,3), @front

# ---- current -----------------------------------------------------------------------------------

panel = 'current'
set tmargin at screen current_top
set bmargin at screen current_bottom
set label 6 'current, A' at screen 0.012, (current_top + current_bottom) / 2 center rotate
set yrange [current_low:current_high]
set ytics current_high > 60 ? 20 : current_high > 26 ? 10 : 5
if (!exists("stall")) stall = NaN
plot 'trace.csv' using 'time_s':'total_A' with filledcurves y=0 fs solid 0.25 lc rgb grey, \
    '' using 'time_s':'elevation_A' with lines lc rgb blue lw 2.5, \
    '' using 'time_s':'rotation_A' with lines lc rgb red lw 2.5 dt (12,3), \
    stall with lines lc rgb 'black' lw 1.5 dt 2, @front

# ---- controller voltage ------------------------------------------------------------------------

panel = 'voltage'
set tmargin at screen voltage_top
set bmargin at screen voltage_bottom
set format x
set xlabel 'time since the start, s' offset 0,0.3
set label 6 'voltage, V' at screen 0.012, (voltage_top + voltage_bottom) / 2 center rotate
set yrange [voltage_low:voltage_high]
set ytics voltage_high - voltage_low > 6 ? 2 : 1
if (!exists("floor")) floor = NaN
plot 'trace.csv' using 'time_s':'voltage_V' with lines lc rgb 'black' lw 2.5, \
    floor with lines lc rgb 'black' lw 1.5 dt 2, @front

unset multiplot
