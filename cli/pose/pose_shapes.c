/* pose_shapes.c - see pose_shapes.h. */
#include "pose_shapes.h"

#include "tell/csv.h"

static const double DEGREE = 3.14159265358979323846 / 180;
static const double HATCHED = 4; /* beyond a stop [deg] */

/* from where to where on the radius each kind is drawn: the narrow sectors outside, so that the
 * lines to their texts pass each other */
static const cli_ring rings[CLI_MARK_KINDS] = {
    [CLI_MARK_STOP] = {0.13, 1.05},    [CLI_MARK_HOME] = {0.64, 0.76},
    [CLI_MARK_POINT] = {0.84, 0.98},   [CLI_MARK_TARGET] = {0.13, 1.00},
    [CLI_MARK_KEEPOUT] = {0.13, 1.00}, [CLI_MARK_ELSEWHERE] = {0.13, 1.00},
    [CLI_MARK_START] = {0.13, 1.00},   [CLI_MARK_TAUGHT] = {0.54, 0.84},
    [CLI_MARK_STOWED] = {0.54, 1.00},  [CLI_MARK_DEPLOYED] = {0.54, 1.00},
};

cli_ring cli_ring_of(cli_mark_kind kind)
{
    return rings[kind];
}

static bool is_sector(cli_mark_kind kind)
{
    return kind == CLI_MARK_HOME || kind == CLI_MARK_POINT || kind == CLI_MARK_TARGET ||
           kind == CLI_MARK_KEEPOUT || kind == CLI_MARK_ELSEWHERE;
}

static bool is_barrel(cli_mark_kind kind)
{
    return kind == CLI_MARK_STOWED || kind == CLI_MARK_DEPLOYED || kind == CLI_MARK_TAUGHT;
}

/* ---- corners ---- */

/* one shape being written */
typedef struct pen {
    FILE *stream;
    int pose;
    const cli_dial *dial;
    const char *kind;
    slew_range range; /* [rad] */
} pen;

typedef struct vertex {
    const pen *pen;
    cli_point at;
} vertex;

static void tell_vertex(cli_teller *t, const void *what)
{
    const vertex *c = what;
    const pen *p = c->pen;
    cli_tell_integer(t, "pose", p->pose + 1);
    cli_tell_text(t, "view", p->dial->axis == SLEW_ELEVATION ? "side" : "plan");
    cli_tell_text(t, "kind", p->kind);
    cli_tell_degrees(t, "low_deg", p->range.low);
    cli_tell_degrees(t, "high_deg", p->range.high);
    cli_tell_number(t, "x", c->at.x);
    cli_tell_number(t, "y", c->at.y);
}

static void put(const pen *p, cli_point at)
{
    cli_csv_values(p->stream, tell_vertex, &(vertex){p, at});
}

static void put_at(const pen *p, double share, double angle)
{
    put(p, cli_dial_at(p->dial, share, angle));
}

static void lift(const pen *p)
{
    fputc('\n', p->stream);
}

static void put_arc(const pen *p, double share, double from, double to)
{
    int steps = 1 + (int)(fabs(to - from) / DEGREE);
    for (int i = 0; i <= steps; i++)
        put_at(p, share, from + (to - from) * i / steps);
}

static void put_sector(const pen *p, slew_range range, cli_ring r)
{
    put_arc(p, r.outer, range.low, range.high);
    put_arc(p, r.inner, range.high, range.low);
    put_at(p, r.outer, range.low);
    lift(p);
}

static void put_ray(const pen *p, double angle, cli_ring r)
{
    put_at(p, r.inner, angle);
    put_at(p, r.outer, angle);
    lift(p);
}

/* ---- the dial itself ---- */

static void write_rim(FILE *stream, int pose, const cli_dial *dial)
{
    const slew_range *stops = &dial->marks.stops;
    pen rim = {stream, pose, dial, "rim", *stops};
    put_arc(&rim, 1, stops->low, stops->high);
    lift(&rim);
    rim.kind = "tick";
    for (double d = ceil(stops->low / DEGREE / 10) * 10; d * DEGREE <= stops->high; d += 10)
        put_ray(&rim, d * DEGREE, (cli_ring){1, fmod(d, 30) == 0 ? 1.035 : 1.018});
    if (stops->low <= 0 && stops->high >= 0) {
        rim.kind = "zero";
        put_ray(&rim, 0, (cli_ring){0.13, 1});
    }
}

/* a post under the side view's pivot; a ring around both */
static void write_mount(FILE *stream, int pose, const cli_dial *dial)
{
    static const double post[][2] = {{-0.04, 0}, {0.04, 0}, {0.09, -0.16}, {-0.09, -0.16}};
    pen mount = {stream, pose, dial, "mount", dial->marks.stops};
    for (int i = 0; i <= 4 && dial->axis == SLEW_ELEVATION; i++)
        put(&mount, (cli_point){dial->x + dial->radius * post[i % 4][0],
                                dial->y + dial->radius * post[i % 4][1]});
    lift(&mount);
    mount.kind = "pivot";
    put_arc(&mount, 0.06, 0, 360 * DEGREE);
    lift(&mount);
}

/* what is beyond a stop, as wide as the gap between the stops allows */
static void write_stop(pen *p, const cli_mark *m)
{
    const slew_range *stops = &p->dial->marks.stops;
    double width = fmin(HATCHED, (360 - (stops->high - stops->low) / DEGREE) / 2) * DEGREE;
    bool is_low = m->range.low == stops->low;
    slew_range beyond = {is_low ? stops->low - width : stops->high,
                         is_low ? stops->low : stops->high + width};
    put_sector(p, beyond, rings[CLI_MARK_STOP]);
    p->kind = "stop_line";
    put_ray(p, m->range.low, rings[CLI_MARK_STOP]);
}

/* a tube and a nozzle, along the angle; the one after the deploy is wider, to be drawn hollow */
static void write_barrel(pen *p, const cli_mark *m)
{
    static const double side[][2] = {{-0.09, 1}, {0.42, 1}, {0.46, 0.6}, {0.54, 0.6}};
    enum { CORNERS = sizeof side / sizeof *side };
    double half = m->kind == CLI_MARK_DEPLOYED ? 0.042 : 0.022;
    for (int i = 0; i <= 2 * CORNERS; i++) {
        int k = i % (2 * CORNERS), corner = k < CORNERS ? k : 2 * CORNERS - 1 - k;
        double aside = (k < CORNERS ? 1 : -1) * half * side[corner][1];
        cli_point along = cli_dial_at(p->dial, side[corner][0], m->range.low);
        cli_point across = cli_dial_at(p->dial, aside, m->range.low + 90 * DEGREE);
        put(p, (cli_point){along.x + across.x - p->dial->x, along.y + across.y - p->dial->y});
    }
    lift(p);
    p->kind = m->kind == CLI_MARK_STOWED   ? "stowed_line"
              : m->kind == CLI_MARK_TAUGHT ? "taught_line"
                                           : "deployed_line";
    put_ray(p, m->range.low, rings[m->kind]);
}

/* from the mark to its text: outwards, then aside */
static void write_leader(pen *p, const cli_mark *m)
{
    p->kind = m->label.trouble ? "leader_trouble" : "leader";
    put_at(p, rings[m->kind].outer, m->named_at);
    put_at(p, 1.09, m->named_at);
    put(p, (cli_point){m->label.end_x, m->label.end_y});
    lift(p);
}

/* what of a stow point's tolerance lies beyond a stop can't be reached */
static slew_range between_stops(const cli_dial *dial, const cli_mark *m)
{
    const slew_range *stops = &dial->marks.stops;
    if (m->kind != CLI_MARK_POINT)
        return m->range;
    return (slew_range){fmax(m->range.low, stops->low), fmin(m->range.high, stops->high)};
}

void cli_shapes_begin(FILE *stream)
{
    cli_csv_names(stream, tell_vertex, &(vertex){.pen = &(pen){.dial = &(cli_dial){0}}});
}

void cli_shapes_write(FILE *stream, int pose, const cli_dial *dial)
{
    write_rim(stream, pose, dial);
    write_mount(stream, pose, dial);
    for (int i = 0; i < dial->marks.count; i++) {
        const cli_mark *m = &dial->marks.mark[i];
        pen p = {stream, pose, dial, cli_mark_word(m->kind), m->range};
        if (m->kind == CLI_MARK_STOP)
            write_stop(&p, m);
        else if (is_barrel(m->kind))
            write_barrel(&p, m);
        else if (is_sector(m->kind))
            put_sector(&p, between_stops(dial, m), rings[m->kind]);
        else
            put_ray(&p, m->range.low, rings[m->kind]);
        if (m->label.text[0] != '\0')
            write_leader(&p, m);
    }
}

/* ---- the fan ---- */

bool cli_shapes_write_fan(FILE *stream, int pose, const cli_dial *dial, const cli_fan *fan)
{
    static const char *const kinds[SLEW_REST_PARTS] = {"stow", "deploy"};
    double angle[CLI_FAN_LINES_MAX];
    int count = 0;
    for (int part = 0; part < SLEW_REST_PARTS && count >= 0; part++) {
        count = cli_fan_lines(fan, (slew_rest_part)part, dial->axis, angle);
        for (int i = 0; i < count; i++) {
            pen p = {stream, pose, dial, kinds[part], {angle[i], angle[i]}};
            put_ray(&p, angle[i], rings[CLI_MARK_START]);
        }
    }
    return count >= 0;
}
