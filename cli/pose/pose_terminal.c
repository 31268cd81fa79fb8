/* pose_terminal.c - one dial of the pose picture in letters, for the terminal. */

#include "pose_shapes.h"
#include "tell/csv.h"

static const double DEGREE = 3.14159265358979323846 / 180;

static const char letters[CLI_MARK_KINDS] = {
    [CLI_MARK_STOP] = '#',   [CLI_MARK_HOME] = 'h',    [CLI_MARK_POINT] = 'p',
    [CLI_MARK_TARGET] = 't', [CLI_MARK_KEEPOUT] = 'x', [CLI_MARK_ELSEWHERE] = 'o',
    [CLI_MARK_START] = ':',  [CLI_MARK_STOWED] = 'S',  [CLI_MARK_DEPLOYED] = 'D',
};

typedef struct canvas {
    FILE *stream;
    const cli_dial *dial;
} canvas;

typedef struct typed {
    cli_point at;
    char letter;
} typed;

static void tell_letter(cli_teller *t, const void *what)
{
    const typed *l = what;
    cli_tell_number(t, "x", l->at.x);
    cli_tell_number(t, "y", l->at.y);
    cli_tell_text(t, "letter", (const char[]){l->letter, '\0'});
}

static void type(const canvas *c, double share, double angle, char letter)
{
    cli_csv_values(c->stream, tell_letter, &(typed){cli_dial_at(c->dial, share, angle), letter});
}

static void type_arc(const canvas *c, double share, slew_range range, char letter)
{
    int steps = 1 + (int)((range.high - range.low) / DEGREE);
    for (int i = 0; i <= steps; i++)
        type(c, share, range.low + (range.high - range.low) * i / steps, letter);
}

static void type_ray(const canvas *c, double angle, cli_ring r, char letter)
{
    for (int i = 0; i <= 50; i++)
        type(c, r.inner + (r.outer - r.inner) * i / 50, angle, letter);
}

/* a sector is a single line of letters: more of them would hide the barrel */
static void type_mark(const canvas *c, const cli_mark *m)
{
    cli_ring r = cli_ring_of(m->kind);
    char letter = letters[m->kind];
    switch (m->kind) {
    case CLI_MARK_HOME:
    case CLI_MARK_POINT:
        type_arc(c, (r.inner + r.outer) / 2, m->range, letter);
        break;
    case CLI_MARK_TARGET:
    case CLI_MARK_KEEPOUT:
    case CLI_MARK_ELSEWHERE:
        type_arc(c, r.outer, m->range, letter);
        break;
    case CLI_MARK_STOWED:
    case CLI_MARK_DEPLOYED:
        type_ray(c, m->range.low, (cli_ring){0.05, r.inner}, letter);
        break;
    default:
        type_ray(c, m->range.low, r, letter);
    }
}

static bool type_fan(const canvas *c, const cli_fan *fan)
{
    static const double share[SLEW_REST_PARTS] = {0.82, 0.92};
    double angle[CLI_FAN_LINES_MAX];
    int count = 0;
    for (int part = 0; part < SLEW_REST_PARTS && count >= 0; part++) {
        count = cli_fan_lines(fan, (slew_rest_part)part, c->dial->axis, angle);
        for (int i = 0; i < count; i++)
            type(c, share[part], angle[i], part == SLEW_REST_STOW ? 's' : 'd');
    }
    return count >= 0;
}

void cli_letters_begin(FILE *stream)
{
    cli_csv_names(stream, tell_letter, &(typed){0});
}

bool cli_letters_write(FILE *stream, const cli_dial *dial, const cli_fan *fan)
{
    static const cli_mark_kind order[] = {CLI_MARK_TARGET, CLI_MARK_ELSEWHERE, CLI_MARK_KEEPOUT,
                                          CLI_MARK_START,  CLI_MARK_STOP,      CLI_MARK_POINT,
                                          CLI_MARK_HOME,   CLI_MARK_DEPLOYED,  CLI_MARK_STOWED};
    const canvas c = {stream, dial};
    type_arc(&c, 1, dial->marks.stops, '.');
    bool written = fan == NULL || type_fan(&c, fan);
    for (size_t k = 0; k < sizeof order / sizeof *order; k++)
        for (int i = 0; i < dial->marks.count; i++)
            if (dial->marks.mark[i].kind == order[k])
                type_mark(&c, &dial->marks.mark[i]);
    type(&c, 0, 0, 'O');
    return written;
}
