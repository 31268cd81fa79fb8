/*
 * usual.c - what the monitors of trucks have, by key. The bounds are wide (common practice): what
 * lies beyond is more likely a slip of units, by 10 or 1000, inches for mm, grams for kg, psi for
 * bar, than a truck.
 */
#include "doubting.h"

#include <string.h>

#define DEG 0.01745329251994329577

typedef struct range {
    const char *path; /* beginning with a point: of each axis that has it */
    double low, high; /* SI; what is none or never is not looked at */
    const char *hint; /* what to check */
} range;

static const range RANGES[] = {
    {"supply.main.resistance", 0, 0.2, "the unit"},
    {"supply.shared_load", 0, 150, "the unit"},
    {"supply.feed.area", 0.5e-6, 150e-6, "the unit"},
    {"supply.feed.gauge", -3, 18, "the unit"},
    {"supply.feed.per_length", 0.05e-3, 40e-3, "the unit"},
    {"supply.feed.length", 0.3, 60, "the unit, and that it is one way"},
    {"supply.feed.stranding", 0, 0.2, "the unit"},
    {"supply.feed.joints", 0, 60, ""},
    {"supply.feed.joint_resistance", 0, 0.5, "the unit"},
    {"supply.auxiliary.resistance", 1e-3, 0.5, "the unit"},
    {"environment.temperature", 273.15 - 45, 273.15 + 70, "degC or degF"},
    {"environment.tilt", 0, 30 * DEG, "the unit"},
    {"grease.viscosity_40", 5e-6, 2000e-6, "the unit"},
    {"nozzle.flow", 50 / 15850.323, 8000 / 15850.323, "gpm or L/min"},
    {"nozzle.tip", 0.005, 0.15, "in or mm"},
    {"nozzle.pressure", 0.5e5, 25e5, "bar or psi"},
    {"nozzle.coefficient", 0.5, 1, ""},
    {"controller.drive_resistance", 0, 0.5, "the unit"},
    {"controller.drive_drop", 0, 3, "the unit"},
    {"controller.sample", 0, 0.2, "the unit"},
    {"controller.latency", 0, 0.5, "the unit"},
    {"controller.clock", 0, 0.5, "the unit"},
    {"controller.pause", 0, 10, "the unit"},
    {"controller.move_limit", 5, 600, "the unit"},
    {"controller.stall.dwell", 0, 3, "the unit"},
    {"controller.stall.blank", 0, 3, "the unit"},
    {"controller.brownout.dwell", 0, 3, "the unit"},
    {".motor.no_load_current", 0.01, 30, "the unit"},
    {".motor.stall_current", 1, 400, "the unit"},
    {".motor.breakaway", 1, 3, ""},
    {".gear.ratio", 10, 20000, "that it is motor turns per output turn"},
    {".gear.efficiency", 0.05, 0.98, "that it is from motor to output"},
    {".load.inertia", 0, 100, "the unit"},
    {".load.friction", 0, 300, "the unit, and that it is at the output"},
    {".load.seal_friction", 0, 50e-5, "the unit"},
    {".load.reaction_arm", -0.5, 0.5, "the unit"},
    {".load.mass", 0, 120, "kg or lb, and that it is what moves with the barrel"},
    {".load.water_mass", 0, 60, "kg or lb"},
    {".load.centre_of_mass", 0, 2, "the unit"},
    {".home.operate", 0.2 * DEG, 30 * DEG, "the unit"},
    {".home.release", 0.2 * DEG, 45 * DEG, "the unit"},
    {".overrun", 0, 5, "the unit"},
    {"stow.lift_first", 0, 30, "the unit"},
    {"stow.tolerance", 0.1 * DEG, 20 * DEG, "the unit"},
};

static double usual_of(const range *r, double value)
{
    if (r->low > 0)
        return sqrt(r->low * r->high);
    return value < 0 ? r->low / 20 : r->high / 20;
}

static void hold_against(slew_doubting *d, const range *r, int key)
{
    double value = key >= 0 ? slew_doubting_value(d, key) : NAN;
    bool within = value >= r->low * (1 - 1e-9) && value <= r->high * (1 + 1e-9);
    if (isnan(value) || value == 0 || within || (r->low < 0 && fabs(value) <= r->high))
        return;
    char own[64], low[64], high[64];
    slew_key_format_number(key, value, own, sizeof own);
    slew_key_format_number(key, r->low, low, sizeof low);
    slew_key_format_number(key, r->high, high, sizeof high);
    slew_doubt_add(d, key, usual_of(r, value), "%s, where trucks have %s to %s%s%s", own, low, high,
                   r->hint[0] != '\0' ? "; check " : "", r->hint);
}

void slew_doubt_usual(slew_doubting *d)
{
    for (size_t i = 0; i < sizeof RANGES / sizeof RANGES[0]; i++) {
        const range *r = &RANGES[i];
        if (r->path[0] != '.')
            hold_against(d, r, slew_key_find(r->path));
        for (int axis = 0; r->path[0] == '.' && axis < SLEW_AXES; axis++)
            hold_against(d, r, slew_doubting_key(axis, r->path));
    }
}
