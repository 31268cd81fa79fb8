/* feed_joint.c - which resistance explains a measured drop or voltage. */
#include "slewtime/feed.h"

#include "error/error.h"
#include "study/feed/feed_part.h"

static slew_status refuse(slew_error *error, const char *message, const char *expected)
{
    return slew_error_set(error, SLEW_ERROR_INPUT, "", message, expected);
}

/* what the conductors leave for the joints */
static void share_out(const slew_setup *setup, slew_feed_joint *out)
{
    double count = setup->supply.feed.joints;
    out->conductors = slew_feed_metres(setup);
    out->joints = out->resistance - out->conductors;
    out->each = count > 0 ? out->joints / count : NAN;
}

slew_status slew_feed_explain_drop(const slew_setup *setup, double drop, double current,
                                   slew_feed_joint *out, slew_error *error)
{
    if (setup == NULL || out == NULL)
        return slew_no_argument(error);
    if (!(current > 0))
        return refuse(error, "without a current there is no drop to be measured",
                      "the current at which the drop was measured, for example 12 A");
    if (!(drop >= 0))
        return refuse(error, "the measured drop is below zero",
                      "the voltage over the joint or the feed, for example 0.6 V");
    if (!(drop < setup->supply.main.voltage))
        return refuse(error, "the measured drop is not below the battery voltage",
                      "less than supply.main.voltage, for example 0.6 V");
    *out = (slew_feed_joint){.resistance = drop / current,
                             .state = {.voltage = NAN, .line = current, .drop = drop}};
    share_out(setup, out);
    return SLEW_OK;
}

/* the drives on a source of that voltage without any resistance */
static slew_status run_at(const slew_setup *setup, int drives, double voltage,
                          slew_feed_state *state, slew_error *error)
{
    slew_setup bench = *setup;
    slew_feed_figures figures;
    bench.supply.main = (slew_battery){voltage, 0};
    bench.supply.feed = (slew_feed){.conductor = SLEW_CONDUCTOR_PER_LENGTH};
    bench.supply.auxiliary_fitted = false;
    slew_status status = slew_feed_ask(&bench, &figures, NULL);
    if (status != SLEW_OK || !figures.moves[drives])
        return refuse(error, "at the measured voltage the axis can't run at its worst place",
                      "a voltage measured while it ran there");
    *state = figures.running[drives];
    return SLEW_OK;
}

slew_status slew_feed_explain_voltage(const slew_setup *setup, int drives, double voltage,
                                      slew_feed_joint *out, slew_error *error)
{
    if (setup == NULL || out == NULL)
        return slew_no_argument(error);
    if (drives < 0 || drives >= SLEW_FEED_DRIVES)
        return slew_no_number(error);
    const slew_supply *supply = &setup->supply;
    slew_feed_state state;
    if (!(voltage < supply->main.voltage))
        return refuse(error, "the measured voltage is not below the battery voltage",
                      "less than supply.main.voltage, measured at the controller under load");
    slew_status status = run_at(setup, drives, voltage, &state, error);
    if (status != SLEW_OK)
        return status;
    if (supply->auxiliary_fitted && voltage < supply->auxiliary.voltage)
        state.auxiliary = (supply->auxiliary.voltage - voltage) / supply->auxiliary.resistance;
    state.line = state.current + supply->shared_load - state.auxiliary;
    if (!(state.line > 0))
        return refuse(error, "the auxiliary battery brings all of the current, whatever the joints",
                      "a voltage measured without the auxiliary battery");
    double line = (supply->main.voltage - voltage) / state.line;
    *out = (slew_feed_joint){.resistance = line - supply->main.resistance};
    state.drop = out->resistance * state.line;
    out->state = state;
    share_out(setup, out);
    return SLEW_OK;
}
