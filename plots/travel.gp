# travel.gp - travel of both axes against time, current and controller voltage below.
#
#   slewtime run truck.yaml --trace trace.csv
#   gnuplot -e "format='png'" travel.gp > travel.png
#
# Reads from the current directory
#   trace.csv   the course of the run, as `slewtime run --trace` writes it; of its columns time_s,
#               rotation_deg, elevation_deg, rotation_A, elevation_A, total_A, voltage_V are read
#   bands.csv, marks.csv   optional: areas and marked points, see courses.gp; panels: elevation |
#               rotation, marks.csv also current | voltage
#   names.csv   optional: panel,value,text - what the bands are, at the right edge
# Variables, passed by -e, all optional: those of common.gp, and
#   part_1, part_2   names of the two parts; verdict_1, verdict_2: when each of them ended [s]
#   t_end            end of the time axis [s]
#   elevation_low, elevation_high, rotation_low, rotation_high   ranges [deg]
#   voltage_low, voltage_high, current_low, current_high         ranges [V], [A]
#   shown            'elevation' or 'rotation': the one that a slide has
#   stall, floor     thresholds drawn as lines [A], [V]
#   inset_axis, inset_words          the last second before an axis jams, enlarged in its panel: which
#                    axis, and what is to be seen
#   inset_from, inset_to, inset_low, inset_high      what is enlarged [s], [deg]
#   inset_contact, inset_off         when it meets the stop, and when its motor goes off [s]
#   inset_left, inset_right, inset_bottom, inset_top where it lies, as shares of the panel
# The picture goes to stdout.

if (!exists("heading_1")) heading_1 = 'Travel against time'
if (!exists("part_1"))    part_1 = ''
if (!exists("part_2"))    part_2 = ''
if (!exists("shown"))     shown = 'elevation'
findings = 2
load system("dirname '".ARG0."'")."/common.gp"
load system("dirname '".ARG0."'")."/courses.gp"

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
names = present("names.csv", "panel,value,text", "none,0,none")
name_text = number(names, 'text')
set xrange [0:t_end]

# ---- in a terminal: both findings first, then the axes, the one that matters on top --------------

edges = "\
    bands using (only('stop', column('from_s'))):'low':(from('from_s', 'to_s')):(0) with vectors nohead lt 2, \
    bands using (only('stop', column('from_s'))):'high':(from('from_s', 'to_s')):(0) with vectors nohead lt 2, \
    marks using (any_text(column('text_s'))):'text_value':mark_text with labels left"

if (format eq 'dumb') {
    set tics nomirror
    unset key
    do for [axis in (shown eq 'elevation' ? 'elevation rotation' : 'rotation elevation')] {
        panel = axis; areas = axis
        if (axis eq shown) { set title wrap(heading_1, columns - 4).(strlen(heading_2) ? "\n".wrap(heading_2, columns - 4) : '') } else { set title axis; set xlabel 'time, s' }
        set ylabel axis."\n°"
        low = axis eq 'elevation' ? elevation_low : rotation_low
        high = axis eq 'elevation' ? elevation_high : rotation_high
        plot [][low:high] 'trace.csv' using 'time_s':axis.'_deg' with lines lt 1, @edges
    }
    exit
}

# ---- the last second, in the panel whose edges are panel_left and so on -------------------------

inset = "\
    unset label; unset arrow; unset xlabel; unset tics; unset grid; unset border; areas = inset_axis; panel = 'inset'; \
    in_left = panel_left + inset_left * (panel_right - panel_left); in_right = panel_left + inset_right * (panel_right - panel_left); \
    in_bottom = panel_bottom + inset_bottom * (panel_up - panel_bottom); in_top = panel_bottom + inset_top * (panel_up - panel_bottom); \
    in_wide = fits(small_points, (in_right - in_left) * W - 16, 0.60); \
    in_lines = lines_of(inset_words, in_wide); in_line = 1.25 * pixels(small_points) / H; \
    set object 90 rectangle from screen in_left, in_bottom to screen in_right, in_top behind fc rgb paper fs solid border lc rgb ink_faint; \
    set label 91 wrap(inset_words, in_wide) at screen in_left + 8.0 / W, in_top - 0.7 * in_line left noenhanced font small front; \
    set lmargin at screen in_left + 10.0 / W; set rmargin at screen in_right - 10.0 / W; \
    set bmargin at screen in_bottom + 8.0 / H; set tmargin at screen in_top - (in_lines + 0.3) * in_line; \
    set xrange [inset_from:inset_to]; set yrange [inset_low:inset_high]; \
    in_y = stop_above(inset_axis) ? inset_high - 0.5 * (inset_high - inset_low) : inset_low + 0.5 * (inset_high - inset_low); \
    set arrow 92 from first inset_contact, first in_y to first inset_off, first in_y heads filled lc rgb ink lw 2 * thick front; \
    do for [in_k = 1:2] { in_x = in_k == 1 ? inset_contact : inset_off; set arrow 92 + in_k from first in_x, graph 0 to first in_x, graph 1 nohead lc rgb ink_trouble lw 1.5 * thick dt 2 back }"
stop_above(axis) = value(axis.'_high') - inset_high < inset_low - value(axis.'_low')

# ---- a slide: one axis, what matters of it ------------------------------------------------------

label_font = small
label_bold = bold
if (slide) {
    panel = shown; areas = shown
    y_name = shown.', °'
    low = shown eq 'elevation' ? elevation_low : rotation_low
    high = shown eq 'elevation' ? elevation_high : rotation_high
    set lmargin at screen 0.08; set rmargin at screen 0.72
    set label 950 y_name at screen 24.0 / W, 0.735 left noenhanced font text
    set tmargin at screen 0.70; set bmargin at screen 0.17
    set xlabel 'time since the start, s'
    set yrange [low:high]
    set ytics spacing(high - low)
    unset grid
    if (exists("verdict_1")) { set arrow 1 from first verdict_1, graph 0 to first verdict_1, graph 1 nohead lc rgb ink_faint lw 2 dt 4 }
    if (exists("verdict_2")) { set arrow 2 from first verdict_2, graph 0 to first verdict_2, graph 1 nohead lc rgb ink_faint lw 2 dt 4 }
    set multiplot
    plot @behind, 'trace.csv' using 'time_s':shown.'_deg' with lines lc rgb ink_elevation lw 3.5 * thick, @front, \
         names using (any_text(t_end)):'value':name_text with labels left offset 0.6,0 noenhanced tc rgb ink_quiet font text
    if (exists("inset_axis") && inset_axis eq shown) {
        panel_left = 0.08; panel_right = 0.72; panel_bottom = 0.17; panel_up = 0.70
        eval inset
        plot @behind, 'trace.csv' using 'time_s':shown.'_deg' with lines lc rgb ink_elevation lw 3.5 * thick
    }
    unset multiplot
    exit
}

# ---- the sheet ---------------------------------------------------------------------------------

front_and_names = front.", names using (any_text(t_end)):'value':name_text with labels left offset 1,0 noenhanced tc rgb ink_quiet font small"
at_left = 0.078; at_right = 0.850
elevation_bottom = 0.575; elevation_top = 0.850
rotation_bottom  = 0.370; rotation_top  = 0.555
current_bottom   = 0.225; current_top   = 0.350
voltage_bottom   = 0.080; voltage_top   = 0.205

set lmargin at screen at_left
set rmargin at screen at_right
unset grid
set grid xtics lc rgb ink_grid lt 1 lw 1
set format x ''
set multiplot

# ---- elevation, with the headings --------------------------------------------------------------

if (exists("verdict_1")) {
    set arrow 1 from first verdict_1, screen voltage_bottom to first verdict_1, screen elevation_top \
        nohead lc rgb ink_faint lw 1.5 dt 4
    set label 4 part_1 at first verdict_1, screen elevation_top + 0.013 right noenhanced font small
}
if (exists("verdict_2")) {
    set arrow 2 from first verdict_2, screen voltage_bottom to first verdict_2, screen elevation_top \
        nohead lc rgb ink_faint lw 1.5 dt 4
    set label 5 part_2 at first verdict_2, screen elevation_top + 0.013 right noenhanced font small
    if (exists("verdict_1") && verdict_2 - verdict_1 < 0.2 * t_end) { set label 5 left }
}

panel = 'elevation'; areas = panel
set tmargin at screen elevation_top
set bmargin at screen elevation_bottom
set label 6 'elevation, °' at screen 0.012, (elevation_top + elevation_bottom) / 2 center rotate
set yrange [elevation_low:elevation_high]
set ytics spacing(elevation_high - elevation_low)
plot @behind, 'trace.csv' using 'time_s':'elevation_deg' @course_elevation, @front_and_names

# ---- rotation ----------------------------------------------------------------------------------

unset label
unset arrow
panel = 'rotation'; areas = panel
set tmargin at screen rotation_top
set bmargin at screen rotation_bottom
set label 6 'rotation, °' at screen 0.012, (rotation_top + rotation_bottom) / 2 center rotate
set yrange [rotation_low:rotation_high]
set ytics spacing(rotation_high - rotation_low)
plot @behind, 'trace.csv' using 'time_s':'rotation_deg' @course_rotation, @front_and_names

# ---- current -----------------------------------------------------------------------------------

panel = 'current'; areas = panel
set tmargin at screen current_top
set bmargin at screen current_bottom
set label 6 'current, A' at screen 0.012, (current_top + current_bottom) / 2 center rotate
set yrange [current_low:current_high]
set ytics current_high > 60 ? 20 : current_high > 26 ? 10 : 5
if (!exists("stall")) stall = NaN
plot 'trace.csv' using 'time_s':'total_A' with filledcurves y=0 @fill_between, \
    '' using 'time_s':'elevation_A' with lines lc rgb ink_elevation lw 2.5, \
    '' using 'time_s':'rotation_A' with lines lc rgb ink_rotation lw 2.5 dt (12,3), \
    stall @line_least, @front_and_names

# ---- controller voltage ------------------------------------------------------------------------

panel = 'voltage'; areas = panel
set tmargin at screen voltage_top
set bmargin at screen voltage_bottom
set format x
set xlabel 'time since the start, s' offset 0,0.3
set label 6 'voltage, V' at screen 0.012, (voltage_top + voltage_bottom) / 2 center rotate
set yrange [voltage_low:voltage_high]
set ytics voltage_high - voltage_low > 6 ? 2 : 1
if (!exists("floor")) floor = NaN
plot 'trace.csv' using 'time_s':'voltage_V' with lines lc rgb ink lw 2.5, \
    floor @line_least, @front_and_names

if (exists("inset_axis")) {
    panel_left = at_left; panel_right = at_right
    panel_bottom = inset_axis eq 'elevation' ? elevation_bottom : rotation_bottom
    panel_up = inset_axis eq 'elevation' ? elevation_top : rotation_top
    eval inset
    plot @behind, 'trace.csv' using 'time_s':inset_axis.'_deg' with lines lc rgb (inset_axis eq 'elevation' ? ink_elevation : ink_rotation) lw 3.5
}
unset multiplot
