# courses.gp - what travel.gp and compare.gp share: courses against time, areas behind them, and marked
# points with their texts. Loaded after common.gp.
#
# The tables, of which only rows of the wanted `panel` are drawn:
#   bands.csv   panel,kind,from_s,to_s,low,high - areas behind the curves
#               kind: stop | home | point | target | keepout
#   marks.csv   panel,kind,time_s,value,text_s,text_value,end_s,end_value,text - a point on a curve,
#               where its text begins, and where the line between them ends; kind: plain | trouble

# a file that is not there, or has no rows, counts as one whose row is of no panel
has_rows(file) = int(system("test -n \"$(sed -n 2p ".file." 2>&-)\" && echo 1 || echo 0"))
present(file, names, nothing) = has_rows(file) ? file : "< printf '".names."\\n".nothing."\\n'"
bands = present("bands.csv", "panel,kind,from_s,to_s,low,high", "none,none,0,0,0,0")
marks = present("marks.csv", "panel,kind,time_s,value,text_s,text_value,end_s,end_value,text", "none,none,0,0,0,0,0,0,none")
# the number of a column, for texts: read by name, gnuplot 5.4 cuts them at a comma
number(file, name) = int(system((file[1:1] eq '<' ? file[2:*] : 'cat '.file)." | sed -n 1p | tr , '\\n' | grep -nx ".name." | cut -d: -f1"))
mark_text = number(marks, 'text')

# values of one panel and kind only; elsewhere undefined
only(kind, value) = strcol('panel') eq panel && strcol('kind') eq kind ? value : NaN
here(value) = strcol('panel') eq panel ? value : NaN
area(kind, value) = strcol('panel') eq areas && strcol('kind') eq kind ? value : NaN
# the same for texts: put aside, not undefined, because gnuplot 5.4 fails on texts that all are
said(kind, value) = strcol('panel') eq panel && strcol('kind') eq kind ? value : -9 - t_end
any_text(value) = strcol('panel') eq panel ? value : -9 - t_end
middle(a, b) = (column(a) + column(b)) / 2
from(a, b) = column(b) - column(a)

box = "using (area(kind, middle('from_s', 'to_s'))):(middle('low', 'high')):'from_s':'to_s':'low':'high' with boxxyerror"
behind = "\
    kind = 'target',  bands @box @fill_target, \
    kind = 'point',   bands @box @fill_point, \
    kind = 'home',    bands @box @fill_home lw 1.5 * thick, \
    kind = 'keepout', bands @box @fill_wrong, \
    kind = 'stop',    bands @box @fill_stop lw 2 * thick"
front = "\
    marks using (here(column('time_s'))):'value':(from('time_s', 'end_s')):(from('value', 'end_value')) with vectors nohead lc rgb ink_quiet lw 1.2 * thick, \
    marks using (only('plain', column('time_s'))):'value' with points pt 7 ps 1.2 * dot lc rgb ink, \
    marks using (only('trouble', column('time_s'))):'value' with points pt 9 ps 2.2 * dot lc rgb role_wrong, \
    marks using (said('plain', column('text_s'))):'text_value':mark_text with labels left boxed noenhanced tc rgb ink font label_font, \
    marks using (said('trouble', column('text_s'))):'text_value':mark_text with labels left boxed noenhanced tc rgb ink_trouble font label_bold"
course_elevation = "with lines lc rgb ink_elevation lw 3.5 * thick"
course_rotation = "with lines lc rgb ink_rotation lw 3.5 * thick dt (12,3)"
line_least = "with lines lc rgb ink lw 1.5 * thick dt 2"
spacing(range) = range > 250 ? 100 : range > 120 ? 50 : range > 60 ? 20 : range > 25 ? 10 : range > 10 ? 5 : range > 5 ? 2 : 1
