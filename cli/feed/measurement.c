/* measurement.c - what a measured voltage or drop tells, as text; see answer.h. */
#include "answer.h"
#include "slewtime/slewtime.h"
#include "tell/units.h"

static void print_share(const cli_feed *a, const slew_feed_joint *j)
{
    const slew_feed *feed = &a->answer.setup.supply.feed;
    double excess = j->joints - a->answer.climate[SLEW_FEED_AS_IT_IS].own.figures.joints;
    if (j->joints < 0) {
        printf(
            "That is less than the cable itself has (%.1f mohm): it is shorter, thicker or colder\n"
            "than the scenario says, or the measurement is not of it.\n",
            cli_milliohms(j->conductors));
        return;
    }
    printf("The cable itself has %.1f mohm of it: %.1f mohm for the connections",
           cli_milliohms(j->conductors), cli_milliohms(j->joints));
    if (!isnan(j->each))
        printf(":\n%.2f mohm for each of %.4g (the scenario says %.4g mohm)",
               cli_milliohms(j->each), feed->joints, cli_milliohms(feed->joint_resistance));
    printf(".\n");
    if (excess > 0)
        printf("Or one of them is bad, with %.1f mohm more than the scenario says.\n",
               cli_milliohms(excess));
}

static void print_drop(const cli_feed *a)
{
    const slew_feed_joint *j = &a->joint;
    printf("%.4g V at %.4g A stand for %.2f mohm.\n", j->state.drop, j->state.line,
           cli_milliohms(j->resistance));
    print_share(a, j);
}

static void print_voltage(const cli_feed *a)
{
    const slew_feed_joint *j = &a->joint;
    char place[CLI_FEED_TEXT_MAX];
    cli_feed_place(&a->answer.climate[SLEW_FEED_AS_IT_IS].own.figures.place[a->axis], a->axis,
                   place);
    printf("%.4g V at the controller while running (%s):\n"
           "the motor draws %.2f A, the feed cable carries %.2f A and has %.1f mohm.\n",
           j->state.voltage, place, j->state.current, j->state.line, cli_milliohms(j->resistance));
    print_share(a, j);
}

void cli_feed_measurement(const cli_feed *a)
{
    if (a->measured == CLI_FEED_DROP)
        print_drop(a);
    else
        print_voltage(a);
}

void cli_feed_measured_how(const cli_feed *a)
{
    if (a->measured == CLI_FEED_DROP)
        printf("Measured over one connection, it is that connection; from the battery to the\n"
               "controller and back, it is the whole feed cable.\n");
    else
        printf("Measured where the motor draws less, it means more resistance than that.\n");
}
