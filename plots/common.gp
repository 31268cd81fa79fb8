# common.gp - what all pictures share: the roles of colors, the sheet or the slide, its title and foot.
#
# A script sets what it needs of the first three and then loads this file:
#   sheet_width, sheet_height   of the sheet on paper [pixels], 1600 x 1100 unless set
#   findings                    how many of the headings say what was found; the others say of what
# and may be handed, by -e
#   format      'png', 'svg', 'pdf', or 'dumb' for a terminal of columns x lines
#   slide       1: 1920 x 1080 for a projector, with large letters and without what is for paper
#   heading_1 to heading_4, origin     above the picture, and small in its corner
#   caution     what can be struck, below the headings; with caution_at_foot set, in the corner
# What it gets: W, H; text, bold, small: fonts; room: the share of the height below the title. With
# y_name set, @name_y writes that above the vertical axis of one panel, which then begins at panel_top.

if (!exists("format"))       format = 'png'
if (!exists("columns"))      columns = 100
if (!exists("lines"))        lines = 22
if (!exists("slide"))        slide = 0
if (!exists("sheet_width"))  sheet_width = 1600
if (!exists("sheet_height")) sheet_height = 1100
if (!exists("findings"))     findings = 1
do for [k = 1:4] { if (!exists('heading_'.k)) { eval 'heading_'.k." = ''" } }
if (!exists("origin"))       origin = ''
if (!exists("caution"))      caution = ''
if (format eq 'dumb')        slide = 0

set encoding utf8
set datafile separator comma
set datafile columnheaders

# ---- roles: each has a color, and a dash, a hatch or a symbol that tells it without color; between
# ---- any two there is a step in gray, too, which tests/unit/picture_roles.c computes

role_stop    = '#202020'
role_wrong   = '#A83200'
role_good    = '#3B8BC2'
role_warning = '#F0B030'
role_target  = '#DCEEF9'

# what is drawn, and no role: letters, lines, paper; the two axes; curves of one kind, each with its
# own dash and symbol
ink       = '#000000'
ink_quiet = '#404040'
ink_faint = '#909090'
ink_grid  = '#E2E2E2'
paper     = '#FFFFFF'
ink_elevation = '#00466E'
ink_rotation  = '#7B4FA0'
ink_trouble   = '#8A2900'
ink_point     = '#00466E'
inks     = '#000000 #00466E #7B4FA0 #5C5C5C #3B8BC2 #A06A00'
ink_of(k)    = word(inks, k % 6 + 1)
symbol_of(k) = int(word('7 5 9 13 4 6', k % 6 + 1))

# of each outcome of a map, in the order of their codes: all is well, five warnings, what is wrong, and
# what can't be run; letters tell them apart within a role
shades = '#DCEEF9 #FFF0C8 #FBD98A #F7CC66 #F0B030 #DFA020 #8C2A00 #C4440C #D98A66 #5A1800 #B05A3A #7A3A20 #96502C #C07858 #E2A98C #C8C8C8 #ABABAB'
shade(k)      = word(shades, k + 1)
shade_rgb(k)  = int('0x'.shade(k)[2:7])
letter_ink(k) = k >= 6 && k <= 13 && k != 8 ? 0xffffff : 0x000000
letter_of(k)  = substr('ABCDEFGHIJKLMNPQR', k + 1, k + 1)

fill_target  = "fc rgb role_target fs solid 1 border lc rgb role_good"
fill_point   = "fc rgb role_good fs solid 0.45 border lc rgb role_good"
fill_good    = "fc rgb role_good fs solid 1 border lc rgb ink"
fill_warning = "fc rgb role_warning fs solid 1 border lc rgb ink"
fill_wrong   = "fc rgb role_wrong fs transparent pattern 6 border lc rgb role_wrong"
fill_stop    = "fc rgb role_stop fs transparent pattern 4 border lc rgb role_stop"
fill_home    = "fc rgb ink_faint fs empty border lc rgb ink_faint dt 2"
fill_between = "fc rgb ink_faint fs solid 0.30 noborder"
line_good    = "lc rgb role_good dt 1 lw 4"
line_warning = "lc rgb role_warning dt (12,4) lw 5"
line_wrong   = "lc rgb role_wrong dt (4,3) lw 5"
line_wanted  = "lc rgb ink dt 3 lw 3"

# ---- the sheet ---------------------------------------------------------------------------------

W = slide ? 1920.0 : 1.0 * sheet_width
H = slide ? 1080.0 : 1.0 * sheet_height
dot = (format eq 'svg' ? 0.5 : format eq 'pdf' ? 0.75 : 1) * (slide ? 1.5 : 1)
thick = slide ? 1.6 : 1

# 29 points are 38.7 pixels, 3.58 % of the slide's height
title_points = slide ? 34 : 22
text_points  = slide ? 29 : 16
small_points = slide ? 29 : 14
text  = sprintf('DejaVu Sans,%g', text_points)
bold  = sprintf('DejaVu Sans:Bold,%g', text_points)
small = sprintf('DejaVu Sans,%g', small_points)
pixels(points) = points * 4 / 3.0

if (format eq 'png') set terminal pngcairo size W,H font text background rgb paper
if (format eq 'svg') set terminal svg size W,H dynamic fontscale 1.333 font text background rgb paper
if (format eq 'pdf') set terminal pdfcairo size W / 100.0,H / 100.0 fontscale 0.72 font text background rgb paper
if (format eq 'dumb') set terminal dumb size columns,lines noenhanced

# ---- texts -------------------------------------------------------------------------------------

# where the first line of a text ends, at a blank if there is one
blank_before(s, i) = i < 1 ? 0 : s[i:i] eq ' ' && s[i + 1:i + 1] ne '%' ? i : blank_before(s, i - 1)
length_of(s, n) = strlen(s) <= n ? strlen(s) : (cut = blank_before(s, n + 1), cut > 0 ? cut : n)
wrap(s, n) = strlen(s) <= n ? s : s[1:length_of(s, n)]."\n".wrap(s[length_of(s, n) + 1:*], n)
lines_of(s, n) = strlen(s) <= n ? 1 : 1 + lines_of(s[length_of(s, n) + 1:*], n)
# a step of about a fourth of a range, for tics
nice(x) = x < 1.5 ? 1 : x < 3.5 ? 2 : x < 7.5 ? 5 : 10
tic_step(range) = range > 0 ? nice(range / 4.0 / 10 ** floor(log10(range / 4.0))) * 10 ** floor(log10(range / 4.0)) : 1
# cut to one line, with dots
brief(s, n) = strlen(s) <= n ? s : s[1:n - 1].'…'
fits(points, width, share) = int(width / (share * pixels(points)))

# about how wide letters are in bold, in em, rather too wide; what is not bold has nine tenths of that
em(c) = strstrt("ijl", c) ? 0.36 : strstrt(" .,:;!|()-", c) ? 0.43 : strstrt("ftr°", c) ? 0.52 : strstrt("mwMW%", c) ? 1.06 : strstrt("ABCDEFGHKLNOPQRSTUVXYZ", c) ? 0.82 : 0.71
# how many letters of `head_words` go into a line of so many pixels: to a blank, if they do not all
fit_line = "head_sum = 0; head_cut = 0; head_blank = 0; \
    do for [head_i = 1:strlen(head_words)] { \
        head_letter = head_words[head_i:head_i]; head_sum = head_sum + em(head_letter) * head_em; \
        if (head_sum <= W - 50) { \
            head_cut = head_i; \
            if (head_letter eq ' ' && head_words[head_i + 1:head_i + 1] ne '%') { head_blank = head_i } \
        } \
    }; \
    head_cut = head_cut == strlen(head_words) || head_blank == 0 ? head_cut : head_blank"

# the title in bold, one or two lines for each finding, then of what; on a slide the findings alone
if (format ne 'dumb') {
    head_y = H - (slide ? 50 : 28)
    head_label = 900
    do for [k = 1:4] {
        head_words = k <= findings || !slide ? value('heading_'.k) : ''
        head_points = k <= findings ? title_points : small_points
        head_em = pixels(head_points) * (k <= findings ? 1 : 0.9)
        while (strlen(head_words) > 0) {
            eval fit_line
            head_line = head_words[1:head_cut]
            head_words = head_words[head_cut + 1:*]
            if (k <= findings) {
                set label head_label head_line at screen 24.0 / W, head_y / H left noenhanced font sprintf('DejaVu Sans:Bold,%g', title_points) tc rgb ink
            } else {
                set label head_label head_line at screen 24.0 / W, head_y / H left noenhanced font small tc rgb ink_quiet
            }
            head_label = head_label + 1
            head_y = head_y - (slide ? 1.32 : 1.25) * pixels(head_points)
        }
    }
    if (exists('caution_at_foot') && !slide) { set label 998 caution at screen 24.0 / W, 16.0 / H left noenhanced font 'DejaVu Sans,11' tc rgb ink_trouble }
    head_words = exists('caution_at_foot') ? '' : caution
    head_em = pixels(small_points) * 0.9
    while (strlen(head_words) > 0) {
        eval fit_line
        set label head_label head_words[1:head_cut] at screen 24.0 / W, head_y / H left noenhanced font small tc rgb ink_trouble
        head_words = head_words[head_cut + 1:*]
        head_label = head_label + 1
        head_y = head_y - (slide ? 1.32 : 1.25) * pixels(small_points)
    }
    room = (head_y + 0.2 * pixels(small_points)) / H
    panel_top = room - 1.7 * pixels(text_points) / H
    name_y = "set label 950 y_name at screen 24.0 / W, room - 0.7 * pixels(text_points) / H left noenhanced font text; set tmargin at screen panel_top"
    if (!slide) { set label 999 origin at screen 1 - 24.0 / W, 16.0 / H right noenhanced font 'DejaVu Sans,12' tc rgb ink_quiet }
    set border 3 lw 1.5 * thick lc rgb ink
    set tics nomirror out font small
    set grid ytics lc rgb ink_grid lt 1 lw 1
    set style textbox opaque noborder fillcolor rgb paper margins 0.3,0.1
    unset key
}
