# causes_seen.gp - which causes agree with what was seen, and what the next checks would read under each.
#
#   slewtime causes truck.yaml --seen seen.yaml --plot ranking.png
#
# Reads from the current directory
#   ranking.csv   the causes, likeliest first, as `slewtime causes --seen --csv` writes them: rank,
#                 name, share (a probability), fit_p, the p of its fit, of the candidates alone
#   checks.csv    check, text: number from 1 and name of each check that is shown, the best first
#   readings.csv  check, rank, odd, text: what it would read if it were the cause of that rank; odd: 1
#                 where that does not fit what was seen
# Variables, passed by -e, all but the first optional: those of common.gp, and
#   least_fit    p of a fit below which a cause does not fit
#   rows         how many candidates there are
#   checks       how many checks checks.csv has, 4 at most; a slide has two
#   seen         1: nothing fits, the checks are what was seen, and no probability is shown
# The picture goes to stdout.

if (!exists("least_fit")) { printerr "causes_seen.gp: the variable least_fit is missing: the p below which a cause does not fit, 0.01"; exit status 2 }
if (!exists("heading_1")) heading_1 = 'Which causes agree with what was seen'
if (!exists("checks"))    checks = 0
if (!exists("seen"))      seen = 0
load system("dirname '".ARG0."'")."/common.gp"

if (!exists("rows")) { stats 'ranking.csv' using 'fit_p' nooutput; rows = int(STATS_records) }
if (slide && checks > 2)  { checks = 2 }
if (rows > 8) { rows = 8 }

# name_at: by its number alone gnuplot takes a name with a comma whole
do for [i = 1:2] { stats 'ranking.csv' using (head = columnhead(i), 0) nooutput; eval head.'_at = '.i }
number(file, name) = int(system("sed -n 1p ".file." | tr , '\\n' | grep -nx ".name." | cut -d: -f1"))

stats 'ranking.csv' every ::::rows - 1 using (column('fit_p') < least_fit ? 1 : 0) nooutput
some_misfit = STATS_max > 0

# rows count from the top
row(shift) = column(0) + 1 + shift
misfits(value) = column('fit_p') < least_fit ? value : NaN
agrees(value) = column('fit_p') >= least_fit ? value : NaN

if (format eq 'dumb') {
    next = checks > 0 && !seen ? "\nnext check: ".system(sprintf("sed -n 2p checks.csv | cut -d, -f%d", number('checks.csv', 'text'))) : ''
    set title wrap(heading_1, columns - 4).next
    set yrange [rows + 0.6 : 0.4]
    set xrange [0 : 1]
    unset xtics
    plot 'ranking.csv' every ::::rows - 1 using 'share':(row(0)):yticlabels(name_at) with impulses notitle, \
         '' every ::::rows - 1 using 'share':(row(0)) with points pt 7 notitle
    exit
}

# a table: the causes are its rows, how likely a bar, and a column for each check
most = rows > 3 ? rows : 3
# names of checks have four lines at most
head_high = checks > 0 ? 4.6 : 1.9
top = panel_top - (head_high + 0.5) * pixels(text_points) / H
set lmargin at screen 24.0 / W; set rmargin at screen 0.985
set tmargin at screen top; set bmargin at screen (slide ? 0.12 : 0.11)
set xrange [0 : 1]; set yrange [most + 0.5 : 0.5]
unset border; unset tics; unset grid
bar_left = slide ? 0.44 : 0.32
bar_right = seen ? bar_left - 0.03 : checks > 0 ? (slide ? 0.58 : 0.47) : 0.75
pitch = checks > 0 ? (1 - bar_right - 0.03) / checks : 0
at_check(k) = bar_right + 0.03 + (k - 1) * pitch
head = top + head_high * pixels(text_points) / H
set label 10 'cause' at graph 0, screen head left font bold
if (!seen) { set label 11 'how likely' at graph bar_left, screen head left font bold }
set label 12 (seen ? 'seen at the truck; each cause would read' : checks > 0 ? 'next checks would read' : 'no check tells more') at graph bar_right + 0.03, screen head + 1.3 * pixels(text_points) / H left font text tc rgb ink_quiet
do for [r = 0:rows] { set arrow 20 + r from graph 0, first r + 0.5 to graph 1, first r + 0.5 nohead lc rgb ink_grid lw 1.5 }
hatched = seen ? 'hatched: it does not fit what was seen' : some_misfit ? 'bar: how likely each cause is; hatched: it does not fit' : 'bar: how likely each cause is'
set label 13 hatched at graph 0, screen 0.05 left font small tc rgb ink_quiet
check_wide = checks > 0 ? fits(text_points, pitch * W, 0.68) : 1
bar(to) = bar_left + to * (bar_right - bar_left - 0.01)
unlikely(value) = seen ? NaN : value
bars = "using (unlikely(%s(bar_left))):(row(0)):(bar_left):(bar(column('share'))):(row(-0.22)):(row(0.22)) with boxxyerror"
bars_good = sprintf(bars, 'agrees')
bars_wrong = sprintf(bars, 'misfits')
odd = checks > 0 ? ", 'readings.csv' using (column('odd') == 1 && column('check') <= checks && column('rank') <= rows ? at_check(column('check')) : NaN):'rank':(at_check(column('check')) - 0.005):(at_check(column('check')) + pitch - 0.02):(column('rank') - 0.4):(column('rank') + 0.4) with boxxyerror @fill_wrong" : ""
readings = checks > 0 ? sprintf(", 'readings.csv' using (column('check') <= checks && column('rank') <= rows ? at_check(column('check')) : -9):'rank':(brief(stringcolumn(%d), check_wide)) with labels left font text noenhanced boxed", number('readings.csv', 'text')) : ''
do for [k = 1:checks] {
    called = system(sprintf("sed -n %dp checks.csv | cut -d, -f%d | tr -d '\"'", k + 1, number('checks.csv', 'text')))
    set label 30 + k wrap(called, check_wide) at graph at_check(k), screen head left font bold noenhanced
}
plot 'ranking.csv' every ::::rows - 1 using (0):(row(0)):name_at with labels left font text noenhanced, \
     '' every ::::rows - 1 @bars_good fc rgb role_good fs solid 1 border lc rgb role_good, \
     '' every ::::rows - 1 @bars_wrong @fill_wrong @odd @readings
