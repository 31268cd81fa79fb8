/* quantity.c - the kinds of quantity a scenario knows and the units people write them in. */
#include "keys/quantity.h"

#include <string.h>

#include "keys/text.h"

#define PI            3.14159265358979323846
#define POUND_FORCE   4.4482216152605 /* [N], exact */
#define FOOT          0.3048          /* [m], exact */
#define INCH          0.0254          /* [m], exact */
#define GALLON_LITRES 3.785411784     /* US gallon, exact */
#define POUND         0.45359237      /* [kg], exact */

static const slew_quantity QUANTITIES[] = {
    {"plain number", "a plain number", NULL},
    {"share", "a share", NULL},
    {"wire gauge", "a wire gauge", NULL},
    {"voltage", "a voltage", "V"},
    {"current", "a current", "A"},
    {"resistance", "a resistance", "ohm"},
    {"resistance per length", "a resistance per length", "ohm/m"},
    {"length", "a length", "m"},
    {"area", "an area", "m2"},
    {"angle", "an angle", "rad"},
    {"speed of rotation", "a speed of rotation", "rad/s"},
    {"time", "a time", "s"},
    {"temperature", "a temperature", "K"},
    {"temperature difference", "a temperature difference", "K"}, /* in units of temperature */
    {"share per temperature", "a share per kelvin", "1/K"},
    {"kinematic viscosity", "a kinematic viscosity", "m2/s"},
    {"flow", "a flow", "m3/s"},
    {"pressure", "a pressure", "Pa"},
    {"moment of inertia", "a moment of inertia", "kg.m2"},
    {"torque", "a torque", "N.m"},
    {"torque per pressure", "a torque per pressure", "N.m/Pa"},
    {"mass", "a mass", "kg"},
    {"flux density", "a flux density", "T"},
};

static const slew_unit UNITS[] = {
    {"plain number", "", 1, 1, 0},
    {"share", "", 1, 1, 0},
    {"share", "%", 1, 100, 0},
    {"wire gauge", "AWG", 1, 1, 0},
    {"voltage", "V", 1, 1, 0},
    {"voltage", "mV", 1, 1000, 0},
    {"current", "A", 1, 1, 0},
    {"current", "mA", 1, 1000, 0},
    {"resistance", "ohm", 1, 1, 0},
    {"resistance", "mohm", 1, 1000, 0},
    {"resistance per length", "ohm/m", 1, 1, 0},
    {"resistance per length", "mohm/m", 1, 1000, 0},
    {"resistance per length", "ohm/km", 1, 1000, 0},
    {"resistance per length", "ohm/kft", 1, 1000 * FOOT, 0},
    {"resistance per length", "mohm/ft", 1, 1000 * FOOT, 0},
    {"length", "m", 1, 1, 0},
    {"length", "cm", 1, 100, 0},
    {"length", "mm", 1, 1000, 0},
    {"length", "in", INCH, 1, 0},
    {"length", "ft", FOOT, 1, 0},
    {"area", "m2", 1, 1, 0},
    {"area", "mm2", 1, 1e6, 0},
    {"angle", "rad", 1, 1, 0},
    {"angle", "deg", PI, 180, 0},
    {"speed of rotation", "rad/s", 1, 1, 0},
    {"speed of rotation", "deg/s", PI, 180, 0},
    {"speed of rotation", "rpm", PI, 30, 0},
    {"speed of rotation", "RPM", PI, 30, 0},
    {"time", "s", 1, 1, 0},
    {"time", "ms", 1, 1000, 0},
    {"time", "min", 60, 1, 0},
    {"temperature", "K", 1, 1, 0},
    {"temperature", "degC", 1, 1, 273.15},
    {"temperature", "degF", 5, 9, 459.67},
    {"temperature", "C", 1, 1, 273.15},
    {"temperature", "F", 5, 9, 459.67},
    {"share per temperature", "%/K", 1, 100, 0},
    {"kinematic viscosity", "m2/s", 1, 1, 0},
    {"kinematic viscosity", "mm2/s", 1, 1e6, 0},
    {"kinematic viscosity", "cSt", 1, 1e6, 0},
    {"flow", "m3/s", 1, 1, 0},
    {"flow", "L/s", 1, 1000, 0},
    {"flow", "L/min", 1, 60000, 0},
    {"flow", "m3/h", 1, 3600, 0},
    {"flow", "gpm", GALLON_LITRES, 60000, 0},
    {"flow", "gal/min", GALLON_LITRES, 60000, 0},
    {"flow", "GPM", GALLON_LITRES, 60000, 0},
    {"pressure", "Pa", 1, 1, 0},
    {"pressure", "kPa", 1000, 1, 0},
    {"pressure", "MPa", 1e6, 1, 0},
    {"pressure", "bar", 1e5, 1, 0},
    {"pressure", "psi", POUND_FORCE, INCH *INCH, 0},
    {"pressure", "PSI", POUND_FORCE, INCH *INCH, 0},
    {"pressure", "psig", POUND_FORCE, INCH *INCH, 0},
    {"moment of inertia", "kg.m2", 1, 1, 0},
    {"moment of inertia", "g.cm2", 1, 1e7, 0},
    {"torque", "N.m", 1, 1, 0},
    {"torque", "Nm", 1, 1, 0},
    {"torque", "lbf.ft", POUND_FORCE *FOOT, 1, 0},
    {"torque", "lbf.in", POUND_FORCE *INCH, 1, 0},
    {"torque", "ft-lb", POUND_FORCE *FOOT, 1, 0},
    {"torque", "lb-ft", POUND_FORCE *FOOT, 1, 0},
    {"torque", "ft.lb", POUND_FORCE *FOOT, 1, 0},
    {"torque", "lb.ft", POUND_FORCE *FOOT, 1, 0},
    {"torque", "in-lb", POUND_FORCE *INCH, 1, 0},
    {"torque", "lb-in", POUND_FORCE *INCH, 1, 0},
    {"torque", "in.lb", POUND_FORCE *INCH, 1, 0},
    {"torque", "lb.in", POUND_FORCE *INCH, 1, 0},
    {"torque", "oz-in", POUND_FORCE *INCH, 16, 0},
    {"torque", "in-oz", POUND_FORCE *INCH, 16, 0},
    {"torque", "oz.in", POUND_FORCE *INCH, 16, 0},
    {"torque", "in.oz", POUND_FORCE *INCH, 16, 0},
    {"torque per pressure", "N.m/Pa", 1, 1, 0},
    {"torque per pressure", "N.m/bar", 1, 1e5, 0},
    {"torque per pressure", "Nm/bar", 1, 1e5, 0},
    {"mass", "kg", 1, 1, 0},
    {"mass", "g", 1, 1000, 0},
    {"mass", "lb", POUND, 1, 0},
    {"flux density", "T", 1, 1, 0},
    {"flux density", "mT", 1, 1000, 0},
    {"flux density", "gauss", 1, 10000, 0},
    {"flux density", "G", 1, 10000, 0},
};

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

const slew_quantity *slew_quantity_find(const char *name)
{
    for (size_t i = 0; i < COUNT(QUANTITIES); i++)
        if (strcmp(QUANTITIES[i].name, name) == 0)
            return &QUANTITIES[i];
    return NULL;
}

const slew_unit *slew_unit_find(const char *name)
{
    for (size_t i = 0; i < COUNT(UNITS); i++)
        if (strcmp(UNITS[i].name, name) == 0)
            return &UNITS[i];
    return NULL;
}

double slew_unit_to_si(const slew_unit *unit, double value)
{
    return (value + unit->offset) * unit->times / unit->over;
}

double slew_unit_from_si(const slew_unit *unit, double value)
{
    return value * unit->over / unit->times - unit->offset;
}

/* ---- spelling ---- */

static const struct {
    const char *written;
    const char *plain;
} SIGNS[] = {
    {"°", "deg"}, {"²", "2"}, {"³", "3"},   {"·", "."},   {"⋅", "."},
    {"µ", "u"},   {"μ", "u"}, {"Ω", "ohm"}, {"Ω", "ohm"}, {"*", "."},
};

/* the plain spelling of a sign at `text`, with the number of bytes it takes there */
static const char *plain_sign(const char *text, size_t *taken)
{
    for (size_t i = 0; i < COUNT(SIGNS); i++) {
        size_t length = strlen(SIGNS[i].written);
        if (strncmp(text, SIGNS[i].written, length) == 0) {
            *taken = length;
            return SIGNS[i].plain;
        }
    }
    return NULL;
}

static bool joins(char c)
{
    return c == '.' || c == '/';
}

/* what may follow `last` in a unit: a number only as an exponent */
static bool fits(char last, char next)
{
    if (slew_is_digit(next))
        return slew_is_letter(last) || slew_is_digit(last) || last == '-';
    if (slew_is_letter(next) || next == '_')
        return !slew_is_digit(last);
    if (next == '-')
        return slew_is_letter(last);
    if (next == '%')
        return last == '\0';
    return joins(next) && last != '\0' && !joins(last);
}

typedef struct spelling {
    char *out;
    size_t length;
    char last;
    bool blank; /* a blank stands before what comes next */
} spelling;

static bool put(spelling *s, char c)
{
    bool between = s->blank && s->last != '\0' && !joins(s->last) && !joins(c);
    s->blank = false;
    if (between && !put(s, '.'))
        return false;
    if (!fits(s->last, c) || s->length + 1 >= SLEW_UNIT_MAX)
        return false;
    s->out[s->length++] = c;
    s->last = c;
    return true;
}

bool slew_unit_spell(const char *text, char out[SLEW_UNIT_MAX])
{
    spelling s = {.out = out};
    while (*text != '\0') {
        size_t taken = 1;
        const char *plain = plain_sign(text, &taken);
        char own[2] = {*text, '\0'};
        if (slew_is_blank(*text))
            s.blank = true;
        else if (*text != '^')
            for (const char *c = plain ? plain : own; *c != '\0'; c++)
                if (!put(&s, *c))
                    return false;
        text += taken;
    }
    out[s.length] = '\0';
    return !joins(s.last) && s.last != '-';
}
