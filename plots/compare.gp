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
#   bands.csv, marks.csv   optional: areas and marked points, see courses.gp; panels: A.elevation,
#               A.rotation ..., marks.csv also A.voltage, A.closeup
# Variables, passed by -e, all optional but count: those of common.gp, and
#   count       how many, 1 to 6
#   points      size of the font in the panels
#   name_A, line_A_1 ... line_A_4     of each: what it is called, and what was found
#   origin_A                          its scenario's hash, small below it
#   wrong_A, verdict_A, floor_A       when it goes wrong, when the stow ends [s]; voltage floor [V]
#   t_end            end of the time axes [s]
#   elevation_low, elevation_high, rotation_low, rotation_high   ranges [deg]
#   voltage_low, voltage_high                                    range [V]
#   closeup          the axis that is enlarged: 'elevation' or 'rotation'
#   closeup_low, closeup_high, closeup_time, start_A             its ranges [deg], [s]
#   closeup_end      the move ends so long after start_A [s]
#   point_A, stop_A  stow point and hard stop whose distance the close-up shows [deg]
#   shown            the axis that a slide has, where there is no close-up
#   kinds            what the legend has: 'stop home point target keepout wrong'
# The picture goes to stdout.

if (!exists("count")) { printerr "compare.gp: the variable count is missing: how many scenarios, 1 to 6"; exit status 2 }
if (!exists("points"))    points = 14
if (!exists("heading_1")) heading_1 = 'Travel against time'
if (!exists("shown"))     shown = 'elevation'
if (!exists("kinds"))     kinds = 'stop home point target keepout wrong'
findings = 2
caution_at_foot = 1
load system("dirname '".ARG0."'")."/common.gp"
load system("dirname '".ARG0."'")."/courses.gp"

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

# ---- in a terminal: the axis that matters, the courses by their letters --------------------------

axis = exists("closeup") ? closeup : shown
low = axis eq 'elevation' ? elevation_low : rotation_low
high = axis eq 'elevation' ? elevation_high : rotation_high

begin(k) = exists("closeup") ? of_strip('start', k, 0) : 0
if (format eq 'dumb') {
    if (exists("closeup")) { low = closeup_low; high = closeup_high }
    set xrange [0:(exists("closeup") ? closeup_time : t_end)]
    set tics nomirror
    set key outside below
    set title wrap(heading_1.(strlen(heading_2) ? ' '.heading_2 : ''), columns - 4)
    set ylabel axis."\n°"
    set xlabel exists("closeup") ? 'close-up of the end of the stow, s' : 'time, s'
    plot [][low:high] for [k = 1:count] trace(k) using (column('time_s') - begin(k)):axis.'_deg' with lines lt k title letter(k), \
        for [k = 1:count] of_strip('stop', k, NaN) with points pt '=' title (k == 1 && exists('stop_A') ? 'hard stop' : '')
    exit
}

# ---- what both the sheet and the slide draw ------------------------------------------------------

# when the stow ends, and when it goes wrong: drawn from the range of the panel; of these two samples
# gnuplot 5.4 takes the first for the names of columns
set samples 2
upright = "with vectors nohead"
times = "\
    '+' using (verdict):(low):(0):(high - low) @upright lc rgb ink_faint lw 1.5 * thick dt 4, \
    '+' using (wrong):(low):(0):(high - low) @upright lc rgb ink_trouble lw 2 * thick dt 2"
of_time(range) = range > 80 ? 20 : range > 40 ? 10 : range > 20 ? 5 : range > 8 ? 2 : range > 3 ? 1 : 0.5
# where its label is: above, or where the course crosses that beside the arrow, or above on the right
crossed = 0
note(time, value) = (crossed = crossed || (time > low_time && time < low_time + 0.5 * (high_time - low_time) && value > high - 0.25 * (high - low) && value < high), value)
beside = "\
    crossed = 0; stats trace(k) using (note(column('time_s'), column(axis.'_deg'))) nooutput; \
    label_y = ((point_here + stop_here) / 2 - low) / (high - low); at_arrow = crossed && label_y > 0.32; \
    label_x = at_arrow ? 0.1 : crossed ? 0.97 : 0.03; label_y = at_arrow ? label_y : 0.9"
# the distance of the stow point from the hard stop, as on a drawing
dimension = "set arrow 30 from first at_dimension, first stop_here to first at_dimension, first point_here heads filled lc rgb ink lw 2 * thick front; \
    set arrow 31 from first low_time, first point_here to first at_dimension, first point_here nohead lc rgb ink lw 1.2 * thick dt 3 front; \
    set label 30 sprintf(count > 3 ? '%.1f°' : slide && count > 2 ? '%.1f° clear' : '%.1f° from the stop', abs(point_here - stop_here)) at graph label_x, graph label_y left font label_bold boxed front; if (label_x > 0.9) { set label 30 right }"

# ---- a slide: the close-up, or else one axis, of each --------------------------------------------

if (slide) {
    slide_left = 134 / W
    pitch = (1756 + 40) / W / count
    label_font = small; label_bold = bold
    set multiplot
    set tics font small
    unset grid
    is_closeup = exists("closeup")
    y_words = axis.', °'.(is_closeup ? ', close-up' : '')
    do for [k = 1:count] {
        left = slide_left + pitch * (k - 1)
        set lmargin at screen left; set rmargin at screen left + pitch - 40 / W
        set tmargin at screen 0.555; set bmargin at screen 0.17
        set label 40 of_strip('name', k, letter(k)) at screen left, 0.76 left noenhanced font bold
        do for [line = 1:3] { set label 40 + line of_line(k, line) at screen left, 0.76 - 0.043 * line left noenhanced font text }
        if (k == 1) { set label 44 y_words at screen 24 / W, 0.588 left font text }
        set format y k == 1 ? '%g' : ''
        wrong = of_strip('wrong', k, NaN); verdict = of_strip('verdict', k, NaN)
        panel = letter(k).(is_closeup ? '.closeup' : '.'.axis); areas = letter(k).'.'.axis
        start = is_closeup ? of_strip('start', k, 0) : 0
        low_time = start; high_time = is_closeup ? start + closeup_time : t_end
        if (is_closeup) { low = closeup_low; high = closeup_high }
        set xrange [low_time : high_time]
        set yrange [low : high]
        set ytics spacing(high - low)
        if (is_closeup) { set xtics ('-1' start + closeup_end - 1, 'end' start + closeup_end) } else { set xtics of_time(t_end) * (count > 2 ? 3 : 1) }
        set label 45 (is_closeup ? 'seconds to the end' : 'time, s') at screen left, 0.055 left font text
        point_here = of_strip('point', k, NaN); stop_here = of_strip('stop', k, NaN)
        at_dimension = low_time + 0.06 * (high_time - low_time)
        if (is_closeup && point_here == point_here && stop_here == stop_here) { eval beside; eval dimension }
        plot @behind, trace(k) using 'time_s':(column(axis.'_deg')) with lines lc rgb ink_elevation lw 3.5 * thick, @times, @front
        unset label; unset arrow
    }
    unset multiplot
    exit
}

# ---- the sheet ---------------------------------------------------------------------------------

across(pixels) = pixels / 1600.0
up(pixels) = pixels / 1100.0
width = (1475.0 - 24 * (count - 1)) / count
at_left(k) = across(105 + (k - 1) * (width + 24))
at_right(k) = across(105 + (k - 1) * (width + 24) + width)

label_font = sprintf('DejaVu Sans,%g', points)
label_bold = sprintf('DejaVu Sans:Bold,%g', points)
scale = 'DejaVu Sans,14'   # of the names of the axes
in_time = width > 300 ? 'time since the start, s' : 'time, s'
name_font = sprintf('DejaVu Sans:Bold,%g', points + 3)

set tics font label_font
unset grid
set grid xtics lc rgb ink_grid lt 1 lw 1

is_closeup = exists("closeup")
elevation_bottom = is_closeup ? 633 : 465; elevation_top = 860
rotation_bottom  = is_closeup ? 525 : 260; rotation_top  = is_closeup ? 618 : 445
voltage_bottom   = is_closeup ? 430 : 110; voltage_top   = is_closeup ? 510 : 240
closeup_bottom   = 120; closeup_top = 327

set multiplot

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
        set label 11 + line of_line(k, line) at screen at_left(k), up(976 - 3 - 21 * line) left noenhanced font label_font
    }
    if (wrong == wrong) {
        set label 16 sprintf('%.2f s ↓', wrong) at first wrong, screen up(elevation_top + 10) right noenhanced font label_bold tc rgb ink_trouble
        if (wrong < 0.3 * t_end) { set label 16 left }
    }

    # elevation
    if (k == 1) { set label 17 'elevation, °' at screen 0.012, up((elevation_top + elevation_bottom) / 2) center rotate font scale }
    panel = letter(k).'.elevation'; areas = panel
    set tmargin at screen up(elevation_top)
    set bmargin at screen up(elevation_bottom)
    low = elevation_low; high = elevation_high
    set yrange [low:high]
    set ytics spacing(elevation_high - elevation_low)
    plot @behind, trace(k) using 'time_s':'elevation_deg' @course_elevation, @times, @front

    # rotation
    unset label
    if (k == 1) { set label 17 (is_closeup ? 'rot., °' : 'rotation, °') at screen 0.012, up((rotation_top + rotation_bottom) / 2) center rotate font scale }
    panel = letter(k).'.rotation'; areas = panel
    set tmargin at screen up(rotation_top)
    set bmargin at screen up(rotation_bottom)
    low = rotation_low; high = rotation_high
    set yrange [low:high]
    set ytics spacing((rotation_high - rotation_low) * (is_closeup ? 2 : 1))
    plot @behind, trace(k) using 'time_s':'rotation_deg' @course_rotation, @times, @front

    # controller voltage
    if (k == 1) { set label 17 'V' at screen 0.012, up((voltage_top + voltage_bottom) / 2) center rotate font scale }
    panel = letter(k).'.voltage'; areas = panel
    set tmargin at screen up(voltage_top)
    set bmargin at screen up(voltage_bottom)
    set format x '%g'
    set label 19 in_time at screen at_left(k), up(voltage_bottom - 54) left font label_font
    low = voltage_low; high = voltage_high
    set yrange [low:high]
    set ytics voltage_high - voltage_low > 6 ? 4 : voltage_high - voltage_low > 3 ? 2 : 1
    floor_here = of_strip('floor', k, NaN)
    set label 20 of_strip('origin', k, '') at screen at_right(k), up(56) right noenhanced font 'DejaVu Sans,10' tc rgb ink_quiet
    plot trace(k) using 'time_s':'voltage_V' with lines lc rgb ink lw 2.5, \
        floor_here with lines lc rgb ink_quiet lw 1.5 dt 3, @times, @front

    # the close-up: all on one time axis, to the end of the move
    if (is_closeup && exists('start_'.letter(k))) {
        start = of_strip('start', k, 0)
        unset label
        set label 19 (width > 300 ? 'seconds to the end of the move' : 'seconds to the end') at screen at_left(k), up(closeup_bottom - 54) left font label_font
        if (k == 1) {
            set label 17 closeup.', °' at screen 0.012, up((closeup_top + closeup_bottom) / 2) center rotate font scale
            set label 18 'Close-up: how '.closeup.' comes to where it is stowed, and how far the stow point is from the hard stop' at screen at_left(1), up(closeup_top + 22) left font label_bold
        }
        panel = letter(k).'.closeup'; areas = letter(k).'.'.closeup
        set tmargin at screen up(closeup_top)
        set bmargin at screen up(closeup_bottom)
        low_time = start; high_time = start + closeup_time
        set xrange [low_time : high_time]
        set xtics ('-1' start + closeup_end - 1, '-0.5' start + closeup_end - 0.5, '0' start + closeup_end)
        low = closeup_low; high = closeup_high
        set yrange [low:high]
        set ytics spacing(closeup_high - closeup_low)
        point_here = of_strip('point', k, NaN); stop_here = of_strip('stop', k, NaN)
        at_dimension = low_time + 0.06 * (high_time - low_time)
        if (point_here == point_here && stop_here == stop_here) { eval beside; eval dimension }
        course_ink = closeup eq 'elevation' ? ink_elevation : ink_rotation
        plot @behind, trace(k) using 'time_s':(column(closeup.'_deg')) with lines lc rgb course_ink lw 3.5, @times, @front
    }
    unset label; unset arrow
}

# ---- one key for all panels, with what is there --------------------------------------------------

unset border; unset tics; unset grid; unset ylabel
set lmargin at screen 0.03; set rmargin at screen 0.97
set tmargin at screen up(52); set bmargin at screen up(25)
set xrange [0:1]; set yrange [0:1]
set key inside center center horizontal Left reverse samplen 2.5 width 2 maxcols 7 font 'DejaVu Sans,13'
is_there(kind) = strstrt(kinds, kind) > 0 ? NaN : 1 / 0
called(kind, words) = strstrt(kinds, kind) > 0 ? words : ''
plot is_there('stop') with boxes @fill_stop title called('stop', 'hard stop'), \
     is_there('point') with boxes @fill_point title called('point', 'stow point'), \
     is_there('target') with boxes @fill_target title called('target', 'deploy target'), \
     is_there('keepout') with boxes @fill_wrong title called('keepout', 'keep-out'), \
     is_there('home') with lines lc rgb ink_faint dt 2 lw 1.5 title called('home', 'home window'), \
     NaN with lines lc rgb ink_quiet dt 3 lw 1.5 title 'minimum voltage', \
     is_there('wrong') with linespoints lc rgb ink_trouble dt 2 lw 2 pt 9 ps 2 * dot title called('wrong', 'it goes wrong')
unset multiplot
