/*
 * ref_physics.c - from data-sheet figures to the constants of the equations of motion.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "ref_machine.h"

#define ZERO_CELSIUS  273.15
#define GRAVITY       9.80665
#define WATER_DENSITY 1000.0
#define POUND_FORCE   4.4482216152605
#define INCH          0.0254
#define GALLON        3.785411784e-3
#define COPPER_RHO20  1.7241e-8
#define COPPER_A20    0.00393
#define WINDING_ZERO  235.0
#define PI            3.14159265358979323846

static double copper(double T)
{
    return 1.0 + COPPER_A20 * (T - (ZERO_CELSIUS + 20.0));
}

/* ---- supply ---- */

static double gauge_area(double n)
{
    double d = 0.127e-3 * pow(92.0, (36.0 - n) / 39.0);
    return PI / 4.0 * d * d;
}

double ref_feed_resistance(const slew_feed *feed, double T)
{
    double metre;
    if (feed->conductor == SLEW_CONDUCTOR_PER_LENGTH) {
        metre = feed->per_length;
    } else {
        double A = feed->conductor == SLEW_CONDUCTOR_GAUGE ? gauge_area(feed->gauge) : feed->area;
        metre = COPPER_RHO20 * (1.0 + feed->stranding) / A;
    }
    return metre * copper(T) * 2.0 * feed->length + feed->joints * feed->joint_resistance;
}

static void build_supply(const slew_setup *setup, ref_machine *m)
{
    const slew_supply *s = &setup->supply;
    m->line_R = s->main.resistance + ref_feed_resistance(&s->feed, setup->environment.temperature);
    m->line_E = s->main.voltage - m->line_R * s->shared_load;
    m->main_E = s->main.voltage;
    m->other = s->shared_load;
    m->auxiliary = s->auxiliary_fitted;
    m->brownout = setup->controller.brownout_voltage;
    m->floor = s->floor;
    if (m->auxiliary) {
        double ra = s->auxiliary.resistance;
        m->auxiliary_E = s->auxiliary.voltage;
        m->auxiliary_R = ra;
        m->joint_E = (m->line_E * ra + m->auxiliary_E * m->line_R) / (m->line_R + ra);
        m->joint_R = m->line_R * ra / (m->line_R + ra);
    }
}

/* ---- nozzle ---- */

double ref_reaction(const slew_nozzle *nozzle)
{
    double p = nozzle->pressure, psi = p / (POUND_FORCE / (INCH * INCH));
    double d = nozzle->tip, Q = nozzle->flow, c = nozzle->coefficient;
    bool bore = nozzle->kind == SLEW_SMOOTH_BORE;
    if (nozzle->reaction == SLEW_REACTION_TRADE) {
        double pounds = bore ? 1.57 * (d / INCH) * (d / INCH) * psi
                             : 0.0505 * (Q / (GALLON / 60.0)) * sqrt(psi);
        return pounds * POUND_FORCE;
    }
    return bore ? 2.0 * c * c * (PI / 4.0) * d * d * p : c * Q * sqrt(2.0 * WATER_DENSITY * p);
}

/* ---- motor ---- */

static double loglog(double nu)
{
    return log10(log10(nu + 0.7));
}

double ref_viscosity(double nu40, double nu100, double T)
{
    double x40 = log10(ZERO_CELSIUS + 40.0), x100 = log10(ZERO_CELSIUS + 100.0);
    double B = (loglog(nu40) - loglog(nu100)) / (x100 - x40);
    double A = loglog(nu40) + B * x40;
    return pow(10.0, pow(10.0, A - B * log10(T))) - 0.7;
}

static void build_motor(const slew_setup *setup, int axis, ref_axis *x)
{
    const slew_motor_sheet *sheet = &setup->axis[axis].motor;
    double T = setup->environment.temperature, hot = T + sheet->winding_rise;
    double magnets = T + sheet->winding_rise * sheet->magnet_share;
    double Ra = sheet->rated_voltage / sheet->stall_current;
    double K = (sheet->rated_voltage - Ra * sheet->no_load_current) / sheet->no_load_speed;
    double drag = K * sheet->no_load_current;
    double nu40 = setup->grease.viscosity_40 * 1e6, nu100 = setup->grease.viscosity_100 * 1e6;
    double thicker = ref_viscosity(nu40, nu100, T) / ref_viscosity(nu40, nu100, ZERO_CELSIUS + 25);
    Ra *= copper(T) / copper(ZERO_CELSIUS + 25);
    Ra *= (hot - ZERO_CELSIUS + WINDING_ZERO) / (T - ZERO_CELSIUS + WINDING_ZERO);
    x->R = Ra + setup->controller.drive_resistance;
    x->K = K * (1.0 + sheet->magnet_coefficient * (magnets - (ZERO_CELSIUS + 25.0)));
    x->b = sheet->viscous_share * drag / sheet->no_load_speed * pow(thicker, 2.0 / 3.0);
    x->Tc = (1.0 - sheet->viscous_share) * drag;
    x->breakaway = sheet->breakaway;
    x->drop = setup->controller.drive_drop;
}

/* ---- axis and load ---- */

static void build_axis(const slew_setup *setup, int axis, ref_axis *x)
{
    const slew_axis_setup *from = &setup->axis[axis];
    double p = setup->nozzle.flowing ? setup->nozzle.pressure : 0.0;
    build_motor(setup, axis, x);
    x->sign = from->reversed ? -1.0 : 1.0;
    x->N = from->gear.ratio;
    double worse = 1.0 + from->gear.loss_coefficient *
                             (setup->environment.temperature - (ZERO_CELSIUS + 25.0));
    x->eta = 1.0 / (1.0 + (1.0 / from->gear.efficiency - 1.0) * worse);
    x->eta_b = 1.0 - (1.0 - from->gear.backward_efficiency) * worse;
    x->J = from->motor.inertia + from->load.inertia / (x->N * x->N);
    x->friction = from->load.friction + from->load.seal_friction * p;
    x->low = from->stops.low;
    x->high = from->stops.high;
    ref_home_build(&from->home, x);
}

static void build_load(const slew_setup *setup, ref_machine *m)
{
    const slew_load *load = &setup->axis[SLEW_ELEVATION].load;
    bool flowing = setup->nozzle.flowing;
    double mass = load->mass + (flowing ? load->water_mass : 0.0);
    double mgr = mass * GRAVITY * load->centre_of_mass;
    double F = flowing ? ref_reaction(&setup->nozzle) : 0.0;
    m->mgr_up = mgr * cos(setup->environment.tilt);
    m->mgr_side = mgr * sin(setup->environment.tilt);
    m->downhill = setup->environment.tilt_direction;
    for (int a = 0; a < 2; a++)
        m->reaction[a] = F * setup->axis[a].load.reaction_arm;
}

double ref_load_torque(const ref_machine *m, int axis, double psi, double eps)
{
    if (axis == SLEW_ELEVATION)
        return m->mgr_up * cos(eps) + m->mgr_side * sin(eps) * cos(psi - m->downhill) +
               m->reaction[SLEW_ELEVATION];
    return m->mgr_side * cos(eps) * sin(psi - m->downhill) + m->reaction[SLEW_ROTATION] * cos(eps);
}

/* ---- all together ---- */

static bool makes_sense(const ref_machine *m, char *why, size_t why_size)
{
    if (m->auxiliary && !(m->line_R > 0.0)) {
        snprintf(why, why_size, "an auxiliary battery needs a feed with resistance");
        return false;
    }
    double rest = m->auxiliary && m->line_E < m->auxiliary_E ? m->joint_E : m->line_E;
    for (int a = 0; a < 2; a++) {
        if (!(rest >= m->axis[a].drop)) {
            snprintf(why, why_size, "the voltage at rest is below the drop of the drive");
            return false;
        }
    }
    return true;
}

bool ref_machine_build(const slew_setup *setup, ref_machine *m, char *why, size_t why_size)
{
    memset(m, 0, sizeof *m);
    build_supply(setup, m);
    build_load(setup, m);
    for (int a = 0; a < 2; a++)
        build_axis(setup, a, &m->axis[a]);
    m->brake = setup->controller.stop == SLEW_BRAKE;
    m->trip = setup->controller.stall_current;
    return makes_sense(m, why, why_size);
}
