# pose.gp - where the barrel rests and where it should, from the side and from above.
#
#   slewtime run truck.yaml --pose pose.png
#
# Reads from the current directory; places are in pixels of the sheet, from its lower left corner
#   shapes.csv  pose,view,kind,low_deg,high_deg,x,y: the corners of each shape, then a blank line
#               view: side | plan; kind: rim | tick | zero | mount | pivot | stop | stop_line | home |
#               point | target | keepout | elsewhere | start | taught | taught_line | stowed |
#               stowed_line | deployed | deployed_line | leader | leader_trouble
#   fan.csv     the same for the lines of the fan; kind: stow | deploy
#   texts.csv   kind,align,x,y,text: its left or right end, at half of its height
#               kind: plain | trouble | caption | title | finding | origin; align: left | right
#   letters.csv only for a terminal: x,y,letter; what comes later lies above
# Variables, passed by -e, all optional: those of common.gp, and
#   width, height                    of the sheet [pixels]
#   size        of the texts [point]
#   has_keepout, has_elsewhere, has_fan              1: the legend has it
#   fan_words   what the legend says of the fan
#   lens_left, lens_right, lens_bottom, lens_top     where the close-up is [pixels]; it has
#   lens_stop, lens_point, lens_tolerance, lens_rest the hard stop, the stow point, and where it rests [deg]
#   lens_keepout_low, lens_keepout_high              a keep-out zone there [deg]
# The picture goes to stdout.

if (!exists("width"))     width = 1600
if (!exists("height"))    height = 900
if (!exists("size"))      size = 17
if (!exists("lines"))     lines = 46
if (!exists("heading_1")) heading_1 = 'Where the barrel rests'
if (!exists("fan_words")) fan_words = 'the fan: where the simulated days rest'
do for [kind in 'keepout elsewhere fan'] {
    if (!exists('has_'.kind)) { eval 'has_'.kind.' = 0' }
}
findings = 2
sheet_width = width
sheet_height = height
load system("dirname '".ARG0."'")."/common.gp"

# the number of a column, for texts: read by name, gnuplot 5.4 cuts them at a comma
text_column = int(system("sed -n 1p texts.csv | tr , '\\n' | grep -nx text | cut -d: -f1"))

unset border
unset tics
unset grid
unset key
set lmargin at screen 0
set rmargin at screen 1
set tmargin at screen 1
set bmargin at screen 0
set xrange [0:width]
set yrange [0:height]

# ---- in a terminal -----------------------------------------------------------------------------

if (format eq 'dumb') {
    legend = 60
    set terminal dumb size columns, lines + 3 noenhanced
    set yrange [-legend:height]
    set label 1 'S after the stow   D after the deploy   : start   # stop   h home sensor closed' at 0, -10 left
    set label 2 'p stow point   t deploy target'.(has_fan ? '   fan: s stow, d deploy' : '') at 0, -30 left
    if (has_keepout || has_elsewhere) {
        set label 3 'keep-out: x with the other axis where it rests, o not where it rests' at 0, -50 left
    }
    plot 'letters.csv' using 'x':'y':(stringcolumn('letter')) with labels left, \
         'texts.csv' using 'x':'y':text_column with labels left
    exit
}

# ---- the sheet ---------------------------------------------------------------------------------

# the lines of the fan: where they crowd it gets darker; an SVG joins them, so they are thinner there
alpha = format eq 'svg' ? '#70' : '#d0'
thin  = format eq 'svg' ? 0.6 : 1.5
fan_stow = alpha.ink_elevation[2:7]
fan_deploy = alpha.role_good[2:7]

text = sprintf('DejaVu Sans,%g', size)
bold = sprintf('DejaVu Sans:Bold,%g', size)
w = size / 17.0       # lines are as thick as the texts are large

# ---- the close-up: what a degree is, and how far it is from the stop ------------------------------

if (exists("lens_left")) {
    is_low = lens_stop < lens_point
    least(a, b) = a < b ? a : b
    most(a, b) = a > b ? a : b
    lens_low = least(least(lens_stop, lens_point - lens_tolerance), lens_rest) - (is_low ? 0 : 0.5)
    lens_high = most(most(lens_stop, lens_point + lens_tolerance), lens_rest) + (is_low ? 0.5 : 0)
    span = lens_high - lens_low
    lens_low = is_low ? least(lens_stop - 0.1 * span, lens_low) : lens_low
    lens_high = is_low ? lens_high : most(lens_stop + 0.1 * span, lens_high)
    at(angle) = lens_bottom + (angle - lens_low) / (lens_high - lens_low) * (lens_top - lens_bottom)
    line = 1.5 * pixels(size)
    bar_right = lens_left + 0.42 * (lens_right - lens_left)
    band_low = at(most(lens_point - lens_tolerance, is_low ? lens_stop : lens_low))
    band_high = at(least(lens_point + lens_tolerance, is_low ? lens_high : lens_stop))
    set object 51 rectangle from lens_left, band_low to bar_right, band_high @fill_point
    set object 52 rectangle from lens_left, (is_low ? at(lens_low) : at(lens_stop)) to bar_right, (is_low ? at(lens_stop) : at(lens_high)) @fill_stop front
    if (exists("lens_keepout_low")) {
        keepout_low = at(most(lens_keepout_low, lens_low)); keepout_high = at(least(lens_keepout_high, lens_high))
        if (keepout_high > keepout_low) { set object 54 rectangle from lens_left, keepout_low to bar_right, keepout_high @fill_wrong front }
    }
    set object 53 rectangle from lens_left, lens_bottom to bar_right, lens_top fs empty border lc rgb ink_faint front
    set arrow 51 from lens_left, at(lens_point) to bar_right, at(lens_point) nohead lc rgb ink dt 2 lw 2.5 * w front
    set arrow 52 from lens_left, at(lens_rest) to bar_right, at(lens_rest) nohead lc rgb ink_elevation lw 5 * w front
    # beside it the names, apart from each other, the stop at its own end
    taught_y = at(lens_point); rest_y = at(lens_rest); stop_y = at(lens_stop) + (is_low ? -0.1 : 0.1) * line
    if (abs(taught_y - rest_y) < line) {
        lack = (line - abs(taught_y - rest_y)) / 2
        taught_y = taught_y + (lens_point >= lens_rest ? lack : -lack)
        rest_y = rest_y + (lens_point >= lens_rest ? -lack : lack)
    }
    beyond = is_low ? stop_y + line - least(rest_y, taught_y) : most(rest_y, taught_y) - stop_y + line
    if (beyond > 0) { rest_y = rest_y + (is_low ? beyond : -beyond); taught_y = taught_y + (is_low ? beyond : -beyond) }
    set label 51 sprintf('as taught: %.1f°', lens_point) at bar_right + 14, taught_y left font text front
    set label 52 sprintf('rests: %.1f°', lens_rest) at bar_right + 14, rest_y left font bold front
    set label 53 sprintf('hard stop: %g°', lens_stop) at bar_right + 14, stop_y left font text front
    set label 54 'Close-up of the stow' at lens_left, lens_top + 0.9 * pixels(size) left font text tc rgb ink_quiet
    # the distances, as on a drawing
    if (abs(lens_point - lens_rest) > 0.05 * span) {
        set arrow 53 from lens_left + 0.12 * (lens_right - lens_left), at(lens_point) to lens_left + 0.12 * (lens_right - lens_left), at(lens_rest) heads filled lc rgb ink lw 2 * w front
        set label 55 sprintf('%.1f°', abs(lens_point - lens_rest)) at lens_left + 0.14 * (lens_right - lens_left), (at(lens_point) + at(lens_rest)) / 2 left font text front boxed
    }
    if (abs(lens_stop - lens_rest) > 0.05 * span) {
        set arrow 54 from lens_left + 0.26 * (lens_right - lens_left), at(lens_stop) to lens_left + 0.26 * (lens_right - lens_left), at(lens_rest) heads filled lc rgb ink lw 2 * w front
        set label 56 sprintf('%.1f°', abs(lens_stop - lens_rest)) at lens_left + 0.28 * (lens_right - lens_left), (at(lens_stop) + at(lens_rest)) / 2 left font text front boxed
    }
}

# ---- the legend --------------------------------------------------------------------------------

y = slide ? 30 : 48
x = 24
if (slide) { has_elsewhere = 0; has_fan = 0 }
if (has_keepout) {
    set object 1 rectangle from x, y - 11 to x + 44, y + 11 @fill_wrong
    set label 11 (slide ? 'keep-out zone' : 'keep-out, with the other axis where it rests') at x + 54, y left font small
    x = x + 490
}
if (has_elsewhere) {
    set object 2 rectangle from x, y - 11 to x + 44, y + 11 fs empty border lc rgb role_wrong dt 2 lw 2
    set label 12 '( ) keep-out, but not where the other axis rests' at x + 54, y left font small
    x = x + 530
}
if (has_fan) {
    do for [k = 0:4] {
        set arrow 3 + k from x, y - 11 to x + 8 + 9 * k, y + 11 nohead lc rgb ink_quiet lw 1.5
    }
    set label 13 fan_words at x + 54, y left font small
}

# ---- the drawing -------------------------------------------------------------------------------

# of one kind; elsewhere undefined
of = "using (strcol('kind') eq kind ? column('x') : NaN):'y'"
area = "with filledcurves closed"
# the same for texts: put aside, not undefined, because gnuplot 5.4 fails on texts that all are
said = "using (strcol('kind') eq kind && strcol('align') eq align ? column('x') : -10 * width):'y':text_column"

plot kind = 'zero', 'shapes.csv' @of with lines lc rgb ink_faint lw 1.5 * w dt 4, \
    kind = 'target',    'shapes.csv' @of @area fs transparent solid 0.9 noborder fc rgb role_target, \
    kind = 'target',    'shapes.csv' @of with lines lc rgb role_good lw 2 * w, \
    kind = 'keepout',   'shapes.csv' @of @area @fill_wrong, \
    kind = 'elsewhere', 'shapes.csv' @of with lines lc rgb role_wrong lw 2 * w dt 2, \
    kind = 'deploy',    'fan.csv' @of with lines lc rgb fan_deploy lw thin * w, \
    kind = 'stow',      'fan.csv' @of with lines lc rgb fan_stow lw thin * w, \
    kind = 'stop',      'shapes.csv' @of @area @fill_stop, \
    kind = 'rim',       'shapes.csv' @of with lines lc rgb ink_faint lw 1.5 * w, \
    kind = 'tick',      'shapes.csv' @of with lines lc rgb ink_faint lw 1.5 * w, \
    kind = 'point',     'shapes.csv' @of @area @fill_point, \
    kind = 'point',     'shapes.csv' @of with lines lc rgb ink_point lw 2 * w, \
    kind = 'home',      'shapes.csv' @of @area fs solid noborder fc rgb paper, \
    kind = 'home',      'shapes.csv' @of with lines lc rgb ink_quiet lw 2 * w, \
    kind = 'leader',         'shapes.csv' @of with lines lc rgb ink_faint lw 1.2 * w, \
    kind = 'leader_trouble', 'shapes.csv' @of with lines lc rgb ink_trouble lw 2 * w, \
    kind = 'stop_line',     'shapes.csv' @of with lines lc rgb role_stop lw 4 * w, \
    kind = 'start',         'shapes.csv' @of with lines lc rgb ink_faint lw 3 * w dt 3, \
    kind = 'mount',         'shapes.csv' @of @area fs solid border lc rgb ink_quiet fc rgb ink_grid, \
    kind = 'taught_line',   'shapes.csv' @of with lines lc rgb ink lw 1.5 * w dt 2, \
    kind = 'deployed_line', 'shapes.csv' @of with lines lc rgb role_good lw 5 * w, \
    kind = 'stowed_line',   'shapes.csv' @of with lines lc rgb ink_elevation lw 2.5 * w, \
    kind = 'deployed',      'shapes.csv' @of @area fs solid noborder fc rgb paper, \
    kind = 'deployed',      'shapes.csv' @of with lines lc rgb role_good lw 4 * w, \
    kind = 'taught',        'shapes.csv' @of with lines lc rgb ink lw 2 * w dt 2, \
    kind = 'stowed',        'shapes.csv' @of @area fs solid noborder fc rgb ink_elevation, \
    kind = 'pivot',         'shapes.csv' @of @area fs solid border lc rgb ink_quiet fc rgb ink_grid, \
    align = 'left', kind = 'plain', 'texts.csv' @said with labels left noenhanced font text, \
    kind = 'trouble', 'texts.csv' @said with labels left noenhanced font bold tc rgb ink_trouble, \
    kind = 'caption', 'texts.csv' @said with labels left noenhanced font text tc rgb ink_quiet, \
    kind = 'title',   'texts.csv' @said with labels left noenhanced font bold, \
    kind = 'finding', 'texts.csv' @said with labels left noenhanced font text, \
    kind = 'origin',  'texts.csv' @said with labels left noenhanced font 'DejaVu Sans,12' tc rgb ink_quiet, \
    align = 'right', kind = 'plain', 'texts.csv' @said with labels right noenhanced font text, \
    kind = 'trouble', 'texts.csv' @said with labels right noenhanced font bold tc rgb ink_trouble
