# compare.gp - several runs side by side: travel of both axes and controller voltage against time, on
# the same scales, and an enlarged piece of one axis.
#
#   slewtime run a.yaml --trace A.csv
#   slewtime run b.yaml --trace B.csv
#   gnuplot -e "count=2" compare.gp > compare.png
#
# Reads from the current directory
#   A.csv ... F.csv  the courses, as `slewtime run --trace` writes them, of whose columns time_s,
#               rotation_deg, elevation_deg, voltage_V are read; one that is not there leaves its
#               panels empty
#   bands.csv   optional: panel,kind,from_s,to_s,low,high - areas behind the curves
#               panel: A.elevation, A.rotation, ...; kind: stop | home | point | target | keepout
#   marks.csv   optional: panel,kind,time_s,value,text_s,text_value,end_s,end_value,text - a point on
#               a curve, where its text begins, and where the line between them ends
#               panel: also A.voltage, A.closeup; kind: plain | trouble
# Variables, passed by -e, all optional but count
#   count       how many, 1 to 6
#   format      'png' (1600 x 1100), 'svg', 'pdf', or 'dumb' for a terminal of columns x lines
#   points      size of the font in the panels
#   heading_1, heading_2, heading_3   what was found (two lines), and what is compared
#   name_A, line_A_1 ... line_A_4     of each: what it is called, and what was found
#   origin_A                          its scenario's hash, small below it
#   caution                           what can be struck, in the corner above
#   wrong_A, verdict_A, floor_A       when it goes wrong, when the stow ends [s]; voltage floor [V]
#   t_end            end of the time axes [s]
#   elevation_low, elevation_high, rotation_low, rotation_high   ranges [deg]
#   voltage_low, voltage_high                                    range [V]
#   closeup          the axis that is enlarged: 'elevation' or 'rotation'
#   closeup_low, closeup_high, closeup_time, start_A             its ranges [deg], [s]
# The picture goes to stdout.

if (!exists("count")) { printerr "compare.gp: the variable count is missing: how many scenarios, 1 to 6"; exit status 2 }
if (!exists("format"))    format = 'png'
if (!exists("columns"))   columns = 100
if (!exists("lines"))     lines = 20
if (!exists("points"))    points = 14
if (!exists("heading_1")) heading_1 = 'Travel against time'
if (!exists("heading_2")) heading_2 = ''
if (!exists("heading_3")) heading_3 = ''

set encoding utf8
set datafile separator comma
set datafile columnheaders

# a file that is not there, or has no rows, counts as one whose row is of no panel
has_rows(file) = int(system("test -n \"$(sed -n 2p ".file." 2>&-)\" && echo 1 || echo 0"))
present(file, names, nothing) = has_rows(file) ? file : "< printf '".names."\\n".nothing."\\n'"
bands = present("bands.csv", "panel,kind,from_s,to_s,low,high", "none,none,0,0,0,0")
marks = present("marks.csv", "panel,kind,time_s,value,text_s,text_value,end_s,end_value,text", "none,none,0,0,0,0,0,0,none")
# the number of a column, for texts: read by name, gnuplot 5.4 cuts them at a comma
number(file, name) = int(system((file[1:1] eq '<' ? file[2:*] : 'cat '.file)." | sed -n 1p | tr , '\\n' | grep -nx ".name." | cut -d: -f1"))
mark_text = number(marks, 'text')
letter(k) = substr('ABCDEF', k, k)
trace(k) = present(letter(k).'.csv', "time_s,rotation_deg,elevation_deg,voltage_V", "nan,nan,nan,nan")
of_strip(name, k, other) = exists(name.'_'.letter(k)) ? value(name.'_'.letter(k)) : other
of_line(k, line) = exists('line_'.letter(k).sprintf('_%d', line)) ? value('line_'.letter(k).sprintf('_%d', line)) : ''

# the ranges of what is there, unless they are given
least(a, b) = a < b ? a : b
most(a, b) = a > b ? a : b
found_end = 0
array found_low[3]; array found_high[3]
do for [c = 1:3] { found_low[c] = 1e9; found_high[c] = -1e9 }
do for [k = 1:count] {
    if (has_rows(letter(k).'.csv')) {
        stats trace(k) using 'time_s' nooutput
        found_end = most(found_end, STATS_max)
        do for [c = 1:3] {
            name = word('rotation_deg elevation_deg voltage_V', c)
            stats trace(k) using (column(name)) nooutput
            found_low[c] = least(found_low[c], STATS_min)
            found_high[c] = most(found_high[c], STATS_max)
        }
    }
}
if (!exists("t_end"))          t_end = found_end
if (!exists("rotation_low"))   rotation_low = found_low[1] - 5
if (!exists("rotation_high"))  rotation_high = found_high[1] + 5
if (!exists("elevation_low"))  elevation_low = found_low[2] - 5
if (!exists("elevation_high")) elevation_high = found_high[2] + 5
if (!exists("voltage_low"))    voltage_low = found_low[3] - 0.5
if (!exists("voltage_high"))   voltage_high = found_high[3] + 0.5

# ---- in a terminal: all in one frame -----------------------------------------------------------

if (format eq 'dumb') {
    set terminal dumb size columns, lines noenhanced
    set xrange [0:t_end]
    set tics nomirror
    set key outside right top
    set title heading_1
    set ylabel "elevation\ndeg"
    plot [][elevation_low:elevation_high] for [k = 1:count] trace(k) using 'time_s':'elevation_deg' with lines lt k title letter(k)
    set title heading_2
    set ylabel "rotation\ndeg"
    set xlabel "time, s"
    plot [][rotation_low:rotation_high] for [k = 1:count] trace(k) using 'time_s':'rotation_deg' with lines lt k title letter(k)
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

across(pixels) = pixels / 1600.0
up(pixels) = pixels / 1100.0
width = (1475.0 - 24 * (count - 1)) / count
at_left(k) = across(105 + (k - 1) * (width + 24))
at_right(k) = across(105 + (k - 1) * (width + 24) + width)

small = sans.sprintf(',%g', points)
bold = sans.sprintf(' Bold,%g', points)
scale = sans.(exists("closeup") ? ',12' : ',14')   # of the names of the axes
in_time = width > 300 ? 'time since the start, s' : 'time, s'
name_font = sans.sprintf(' Bold,%g', points + 3)

set border 3 lw 1.5
set tics nomirror out font small
set grid xtics lc rgb '#e4e4e4' lt 1 lw 1
unset key

# values of one panel and kind only; elsewhere undefined
only(kind, value) = strcol('panel') eq panel && strcol('kind') eq kind ? value : NaN
here(value) = strcol('panel') eq panel ? value : NaN
area(kind, value) = strcol('panel') eq areas && strcol('kind') eq kind ? value : NaN
# the same for texts: put aside, not undefined, because gnuplot 5.4 fails on texts that all are
text(kind, value) = strcol('panel') eq panel && strcol('kind') eq kind ? value : -9 - t_end

middle(a, b) = (column(a) + column(b)) / 2
from(a, b) = column(b) - column(a)

box = "using (area(kind, middle('from_s', 'to_s'))):(middle('low', 'high')):'from_s':'to_s':'low':'high' with boxxyerror"

behind = "\
    kind = 'target',  bands @box fc rgb blue fs solid 0.14 border lc rgb blue, \
    kind = 'point',   bands @box fc rgb green fs solid 0.30 border lc rgb green, \
    kind = 'home',    bands @box fc rgb grey fs empty border lc rgb grey dt 2 lw 1.5, \
    kind = 'keepout', bands @box fc rgb red fs transparent pattern 6 border lc rgb red, \
    kind = 'stop',    bands @box fc rgb '#505050' fs pattern 4 border lc rgb '#303030' lw 2"
# when the stow ends, and when it goes wrong: drawn from the range of the panel; of these two samples
# gnuplot 5.4 takes the first for the names of columns
set samples 2
upright = "with vectors nohead"
times = "\
    '+' using (verdict):(low):(0):(high - low) @upright lc rgb grey lw 1.5 dt 4, \
    '+' using (wrong):(low):(0):(high - low) @upright lc rgb '#A03000' lw 2 dt 2"
front = "\
    marks using (here(column('time_s'))):'value':(from('time_s', 'end_s')):(from('value', 'end_value')) with vectors nohead lc rgb '#404040' lw 1.2, \
    marks using (only('plain', column('time_s'))):'value' with points pt 7 ps 1.2 * dot lc rgb 'black', \
    marks using (only('trouble', column('time_s'))):'value' with points pt 9 ps 2.2 * dot lc rgb 'black', \
    marks using (text('plain', column('text_s'))):'text_value':mark_text with labels left boxed noenhanced tc rgb 'black' font small, \
    marks using (text('trouble', column('text_s'))):'text_value':mark_text with labels left boxed noenhanced tc rgb '#A03000' font bold"
spacing(range) = range > 250 ? 100 : range > 120 ? 50 : range > 60 ? 20 : range > 25 ? 10 : range > 10 ? 5 : range > 5 ? 2 : 1
of_time(range) = range > 80 ? 20 : range > 40 ? 10 : range > 20 ? 5 : range > 8 ? 2 : range > 3 ? 1 : 0.5

set style textbox opaque noborder fillcolor rgb 'white' margins 0.4,0.1

is_closeup = exists("closeup")
elevation_bottom = is_closeup ? 633 : 465; elevation_top = 860
rotation_bottom  = is_closeup ? 525 : 260; rotation_top  = is_closeup ? 618 : 445
voltage_bottom   = is_closeup ? 430 : 110; voltage_top   = is_closeup ? 510 : 240
closeup_bottom   = 110; closeup_top = 325

set multiplot

set label 1 heading_1 at screen 0.012, up(1066) left noenhanced font sans.' Bold,22'
set label 2 heading_2 at screen 0.012, up(1034) left noenhanced font sans.' Bold,22'
if (exists("caution")) { set label 98 caution at screen 0.985, up(1088) right noenhanced font sans.',12' tc rgb '#a03000' }
set label 3 heading_3 at screen 0.012, up(strlen(heading_2) ? 1007 : 1036) left noenhanced font sans.',14' tc rgb '#404040'

do for [k = 1:count] {
    set lmargin at screen at_left(k)
    set rmargin at screen at_right(k)
    set xrange [0:t_end]
    set xtics of_time(t_end * 475 / width)
    set format y k == 1 ? '%g' : ''
    set format x ''
    wrong = of_strip('wrong', k, NaN)
    verdict = of_strip('verdict', k, NaN)

    # the head
    set label 11 of_strip('name', k, letter(k)) at screen at_left(k), up(976) left noenhanced font name_font
    do for [line = 1:4] {
        set label 11 + line of_line(k, line) at screen at_left(k), up(976 - 3 - 21 * line) left noenhanced font small
    }
    if (wrong == wrong) {
        set label 16 sprintf('%.2f s ↓', wrong) at first wrong, screen up(elevation_top + 10) right noenhanced font bold tc rgb '#A03000'
        if (wrong < 0.3 * t_end) { set label 16 left }
    }

    # elevation
    if (k == 1) { set label 17 'elevation, deg' at screen 0.012, up((elevation_top + elevation_bottom) / 2) center rotate font scale }
    panel = letter(k).'.elevation'; areas = panel
    set tmargin at screen up(elevation_top)
    set bmargin at screen up(elevation_bottom)
    low = elevation_low; high = elevation_high
    set yrange [low:high]
    set ytics spacing(elevation_high - elevation_low)
    plot @behind, trace(k) using 'time_s':'elevation_deg' with lines lc rgb blue lw 3.5, @times, @front

    # rotation
    unset label
    if (k == 1) { set label 17 'rotation, deg' at screen 0.012, up((rotation_top + rotation_bottom) / 2) center rotate font scale }
    panel = letter(k).'.rotation'; areas = panel
    set tmargin at screen up(rotation_top)
    set bmargin at screen up(rotation_bottom)
    low = rotation_low; high = rotation_high
    set yrange [low:high]
    set ytics spacing((rotation_high - rotation_low) * (is_closeup ? 2 : 1))
    plot @behind, trace(k) using 'time_s':'rotation_deg' with lines lc rgb red lw 3.5 dt (12,3), @times, @front

    # controller voltage
    if (k == 1) { set label 17 'voltage, V' at screen 0.012, up((voltage_top + voltage_bottom) / 2) center rotate font scale }
    panel = letter(k).'.voltage'; areas = panel
    set tmargin at screen up(voltage_top)
    set bmargin at screen up(voltage_bottom)
    set format x '%g'
    set label 19 in_time at screen at_left(k), up(voltage_bottom - 54) left font small
    low = voltage_low; high = voltage_high
    set yrange [low:high]
    set ytics voltage_high - voltage_low > 6 ? 4 : voltage_high - voltage_low > 3 ? 2 : 1
    floor_here = of_strip('floor', k, NaN)
    set label 20 of_strip('origin', k, '') at screen at_right(k), up(56) right noenhanced font sans.',10' tc rgb '#404040'
    plot trace(k) using 'time_s':'voltage_V' with lines lc rgb 'black' lw 2.5, \
        floor_here with lines lc rgb 'black' lw 1.5 dt 2, @times, @front

    # the close-up
    if (is_closeup && exists('start_'.letter(k))) {
        start = of_strip('start', k, 0)
        unset label
        set label 19 in_time at screen at_left(k), up(closeup_bottom - 54) left font small
        if (k == 1) {
            set label 17 closeup.', deg' at screen 0.012, up((closeup_top + closeup_bottom) / 2) center rotate font scale
            set label 18 'Close-up: how '.closeup.' comes to where it is stowed' at screen at_left(1), up(closeup_top + 22) left font bold
        }
        panel = letter(k).'.closeup'; areas = letter(k).'.'.closeup
        set tmargin at screen up(closeup_top)
        set bmargin at screen up(closeup_bottom)
        set xrange [start:start + closeup_time]
        set xtics of_time(closeup_time * 475 / width)
        low = closeup_low; high = closeup_high
        set yrange [low:high]
        set ytics spacing(closeup_high - closeup_low)
        source = closeup.'_deg'
        shade = closeup eq 'elevation' ? blue : red
        plot @behind, trace(k) using 'time_s':(column(source)) with lines lc rgb shade lw 3.5, @times, @front
    }
    unset label
}

# ---- one key for all panels --------------------------------------------------------------------

unset border; unset tics; unset grid; unset ylabel
set lmargin at screen 0.03; set rmargin at screen 0.97
set tmargin at screen up(40); set bmargin at screen up(0)
set xrange [0:1]; set yrange [0:1]
set key inside center center horizontal Left reverse samplen 2.5 width 2 maxcols 4 font sans.',13'
plot NaN with boxes fc rgb '#505050' fs pattern 4 border lc rgb '#303030' title 'hard stop', \
     NaN with boxes fc rgb green fs solid 0.30 border lc rgb green title 'stow point', \
     NaN with boxes fc rgb blue fs solid 0.14 border lc rgb blue title 'deploy target', \
     NaN with boxes fc rgb red fs transparent pattern 6 border lc rgb red title 'keep-out', \
     NaN with lines lc rgb grey dt 2 lw 1.5 title 'home window, floor', \
     NaN with lines lc rgb grey dt 4 lw 1.5 title 'stow ends', \
     NaN with linespoints lc rgb '#A03000' dt 2 lw 2 pt 9 ps 2 * dot title 'it goes wrong'
unset multiplot
