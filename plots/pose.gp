# pose.gp - where the barrel rests and where it should, from the side and from above.
#
#   slewtime run truck.yaml --pose pose.png
#
# Reads from the current directory; places are in pixels of the sheet, from its lower left corner
#   shapes.csv  pose,view,kind,low_deg,high_deg,x,y: the corners of each shape, then a blank line
#               view: side | plan; kind: rim | tick | zero | mount | pivot | stop | stop_line | home |
#               point | target | keepout | elsewhere | start | stowed | stowed_line | deployed |
#               deployed_line | leader | leader_trouble
#   fan.csv     the same for the lines of the fan; kind: stow | deploy
#   texts.csv   kind,align,x,y,text: its left or right end, at half of its height
#               kind: plain | trouble | caption | title | finding | origin; align: left | right
#   letters.csv only for a terminal: x,y,letter; what comes later lies above
# Variables, passed by -e, all optional
#   format      'png' (width x height), 'svg', 'pdf', or 'dumb' for a terminal of columns x lines
#   width, height                    of the sheet [pixels]
#   size        of the texts [point]
#   has_keepout, has_elsewhere, has_fan              1: the legend has it
#   origin      which scenario and samples, small in the corner
#   fan_words   what the legend says of the fan
#   heading_1, heading_2, heading_3, heading_4       what was found (two lines), on what truck, the fan
# The picture goes to stdout.

if (!exists("format"))    format = 'png'
if (!exists("width"))     width = 1600
if (!exists("height"))    height = 900
if (!exists("size"))      size = 17
if (!exists("columns"))   columns = 100
if (!exists("lines"))     lines = 46
if (!exists("heading_1")) heading_1 = 'Where the barrel rests'
if (!exists("heading_2")) heading_2 = ''
if (!exists("heading_3")) heading_3 = ''
if (!exists("heading_4")) heading_4 = ''
if (!exists("origin"))    origin = ''
if (!exists("fan_words")) fan_words = 'the fan: where the samples rest'
do for [kind in 'keepout elsewhere fan'] {
    if (!exists('has_'.kind)) { eval 'has_'.kind.' = 0' }
}

set encoding utf8
set datafile separator comma
set datafile columnheaders

# the number of a column, for texts: read by name, gnuplot 5.4 cuts them at a comma
text_column = int(system("sed -n 1p texts.csv | tr , '\\n' | grep -nx text | cut -d: -f1"))

unset border
unset tics
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

sans = 'DejaVu Sans'
if (format eq 'png') set terminal pngcairo size width,height font sans.',16' background rgb 'white'
if (format eq 'svg') set terminal svg size width,height dynamic fontscale 1.333 font sans.',16' background rgb 'white'
if (format eq 'pdf') set terminal pdfcairo size width / 100.0,height / 100.0 fontscale 0.72 font sans.',16' background rgb 'white'

blue  = '#0072B2'   # of the palette for the colour-blind of Okabe and Ito
red   = '#D55E00'
green = '#009E73'
grey  = '#707070'
dark  = '#00402F'

# the lines of the fan: where they crowd it gets darker; an SVG joins them, so they are thinner there
alpha = format eq 'svg' ? '#70' : '#d0'
thin  = format eq 'svg' ? 0.6 : 1.5

text = sprintf('%s,%g', sans, size)
bold = sprintf('%s Bold,%g', sans, size)
small = sans.',14'
w = size / 17.0       # lines are as thick as the texts are large

set label 1 heading_1 at 24, height - 32 left noenhanced font sans.' Bold,24'
set label 2 heading_2 at 24, height - 72 left noenhanced font sans.' Bold,24'
set label 3 heading_3 at 24, height - (strlen(heading_2) ? 108 : 72) left noenhanced font small tc rgb '#404040'
set label 4 heading_4 at 24, height - (strlen(heading_2) ? 134 : 98) left noenhanced font small tc rgb '#404040'

# ---- the legend --------------------------------------------------------------------------------

set label 9 origin at width - 24, 16 right noenhanced font sans.',12' tc rgb '#404040'
y = 48
x = 24
if (has_keepout) {
    set object 1 rectangle from x, y - 11 to x + 44, y + 11 fs transparent pattern 6 border lc rgb red fc rgb red
    set label 11 'keep-out, with the other axis where it rests' at x + 54, y left font small
    x = x + 490
}
if (has_elsewhere) {
    set object 2 rectangle from x, y - 11 to x + 44, y + 11 fs empty border lc rgb red dt 2 lw 2
    set label 12 '( ) keep-out, but not where the other axis rests' at x + 54, y left font small
    x = x + 530
}
if (has_fan) {
    do for [k = 0:4] {
        set arrow 3 + k from x, y - 11 to x + 8 + 9 * k, y + 11 nohead lc rgb '#606060' lw 1.5
    }
    set label 13 fan_words at x + 54, y left font small
}

# ---- the drawing -------------------------------------------------------------------------------

# of one kind; elsewhere undefined
of = "using (strcol('kind') eq kind ? column('x') : NaN):'y'"
area = "with filledcurves closed"
# the same for texts: put aside, not undefined, because gnuplot 5.4 fails on texts that all are
said = "using (strcol('kind') eq kind && strcol('align') eq align ? column('x') : -10 * width):'y':text_column"

plot kind = 'zero', 'shapes.csv' @of with lines lc rgb '#b0b0b0' lw 1.5 * w dt 4, \
    kind = 'target',    'shapes.csv' @of @area fs transparent solid 0.18 noborder fc rgb blue, \
    kind = 'target',    'shapes.csv' @of with lines lc rgb blue lw 2 * w, \
    kind = 'keepout',   'shapes.csv' @of @area fs transparent pattern 6 border lc rgb red fc rgb red, \
    kind = 'elsewhere', 'shapes.csv' @of with lines lc rgb red lw 2 * w dt 2, \
    kind = 'deploy',    'fan.csv' @of with lines lc rgb alpha.'0072B2' lw thin * w, \
    kind = 'stow',      'fan.csv' @of with lines lc rgb alpha.'006040' lw thin * w, \
    kind = 'stop',      'shapes.csv' @of @area fs transparent pattern 4 noborder fc rgb '#505050', \
    kind = 'rim',       'shapes.csv' @of with lines lc rgb '#909090' lw 1.5 * w, \
    kind = 'tick',      'shapes.csv' @of with lines lc rgb '#909090' lw 1.5 * w, \
    kind = 'point',     'shapes.csv' @of @area fs transparent solid 0.5 border lc rgb green fc rgb green, \
    kind = 'point',     'shapes.csv' @of with lines lc rgb '#00513B' lw 2 * w, \
    kind = 'home',      'shapes.csv' @of @area fs solid noborder fc rgb 'white', \
    kind = 'home',      'shapes.csv' @of with lines lc rgb '#404040' lw 2 * w, \
    kind = 'leader',         'shapes.csv' @of with lines lc rgb '#808080' lw 1.2 * w, \
    kind = 'leader_trouble', 'shapes.csv' @of with lines lc rgb '#A03000' lw 2 * w, \
    kind = 'stop_line',     'shapes.csv' @of with lines lc rgb '#202020' lw 4 * w, \
    kind = 'start',         'shapes.csv' @of with lines lc rgb '#808080' lw 3 * w dt 3, \
    kind = 'mount',         'shapes.csv' @of @area fs solid border lc rgb '#505050' fc rgb '#d0d0d0', \
    kind = 'deployed_line', 'shapes.csv' @of with lines lc rgb blue lw 5 * w, \
    kind = 'stowed_line',   'shapes.csv' @of with lines lc rgb dark lw 2.5 * w, \
    kind = 'deployed',      'shapes.csv' @of @area fs solid noborder fc rgb 'white', \
    kind = 'deployed',      'shapes.csv' @of with lines lc rgb blue lw 4 * w, \
    kind = 'stowed',        'shapes.csv' @of @area fs solid noborder fc rgb dark, \
    kind = 'pivot',         'shapes.csv' @of @area fs solid border lc rgb '#505050' fc rgb '#d0d0d0', \
    align = 'left', kind = 'plain', 'texts.csv' @said with labels left noenhanced font text, \
    kind = 'trouble', 'texts.csv' @said with labels left noenhanced font bold tc rgb '#A03000', \
    kind = 'caption', 'texts.csv' @said with labels left noenhanced font text tc rgb '#404040', \
    kind = 'title',   'texts.csv' @said with labels left noenhanced font bold, \
    kind = 'finding', 'texts.csv' @said with labels left noenhanced font text, \
    kind = 'origin',  'texts.csv' @said with labels left noenhanced font sans.',12' tc rgb '#404040', \
    align = 'right', kind = 'plain', 'texts.csv' @said with labels right noenhanced font text, \
    kind = 'trouble', 'texts.csv' @said with labels right noenhanced font bold tc rgb '#A03000'
