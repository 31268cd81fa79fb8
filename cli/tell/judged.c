/* judged.c - see judged.h. */
#include "judged.h"

#include <inttypes.h>
#include <string.h>

#include "append.h"
#include "units.h"

enum { ROOM = CLI_JUDGED_MAX, TAIL = 20 /* " of the days, 2 more" */ };

/* ---- figures ---- */

static void tell_state(cli_teller *t, const slew_demand_state *s, const char *word)
{
    cli_tell_open_if(t, word, s->asked);
    if (t->in_full)
        cli_tell_number(t, "limit", s->limit);
    cli_tell_share(t, "missed", &s->missed);
    cli_tell_text(t, "meets", s->asked ? slew_meets_word(s->meets) : NULL);
    if (t->in_full) {
        cli_tell_integer(t, "misses", s->misses);
        cli_tell_next_if(t, s->enough >= 0);
        cli_tell_integer(t, "enough", s->enough);
    }
    cli_tell_close(t);
}

void cli_tell_judgment(cli_teller *t, const void *what)
{
    const slew_judgment *j = what;
    cli_tell_text(t, "meets", slew_meets_word(j->meets));
    if (t->in_full) {
        cli_tell_integer(t, "samples", j->samples);
        cli_tell_integer(t, "refused", j->refused);
        cli_tell_boolean(t, "certain", j->certain);
    }
    for (int d = 0; d < SLEW_DEMAND_COUNT; d++)
        tell_state(t, &j->of[d], slew_demand_word((slew_demand)d));
}

/* ---- words ---- */

const char *cli_demand_words(slew_demand demand)
{
    static const char *const words[SLEW_DEMAND_COUNT] = {
        [SLEW_DEMAND_KEEPOUT] = "enters a keep-out zone",
        [SLEW_DEMAND_STOP] = "meets a hard stop",
        [SLEW_DEMAND_FAULT] = "faults otherwise",
        [SLEW_DEMAND_DEPLOY] = "deploys inside the target",
        [SLEW_DEMAND_STOW] = "stows within tolerance",
        [SLEW_DEMAND_FLOOR] = "falls below the minimum voltage"};
    return words[demand];
}

double cli_demand_percent(slew_demand demand, double missed)
{
    return cli_percent(slew_demand_is_at_least(demand) ? 1 - missed : missed);
}

/* in a sentence that need not name the other faults */
static const char *words_of(slew_demand demand)
{
    return demand == SLEW_DEMAND_FAULT ? "faults" : cli_demand_words(demand);
}

void cli_judged_add(const slew_judgment *j, slew_demand demand, char *text, size_t size)
{
    const slew_demand_state *s = &j->of[demand];
    cli_append(text, size, "%s in %.2f %% (at %s %.6g %%)", words_of(demand),
               cli_demand_percent(demand, s->missed.value),
               slew_demand_is_at_least(demand) ? "least" : "most",
               cli_demand_percent(demand, s->limit));
}

int cli_judged_add_all(const slew_judgment *j, slew_meets meets, char *text, size_t size)
{
    int count = 0;
    for (int d = 0; d < SLEW_DEMAND_COUNT; d++)
        if (j->of[d].asked && j->of[d].meets == meets) {
            cli_append(text, size, "%s", count++ > 0 ? "; " : "");
            cli_judged_add(j, (slew_demand)d, text, size);
        }
    return count;
}

int64_t cli_judged_enough(const slew_judgment *j)
{
    int64_t most = 0;
    for (int d = 0; d < SLEW_DEMAND_COUNT; d++) {
        if (j->of[d].asked && j->of[d].enough < 0)
            return -1;
        most = j->of[d].asked && j->of[d].enough > most ? j->of[d].enough : most;
    }
    return most;
}

static void add_untold(const slew_judgment *j, char text[ROOM])
{
    int64_t enough = cli_judged_enough(j);
    cli_append(text, ROOM, "too few simulated days to say, ");
    if (enough < 0)
        cli_append(text, ROOM, "nor would more do: ");
    else
        cli_append(text, ROOM, "%" PRId64 " would do: ", enough);
    cli_judged_add_all(j, SLEW_NOT_TOLD, text, ROOM);
}

const char *cli_judged_short(const slew_judgment *j)
{
    static const char *const words[] = {[SLEW_MEETS] = "meets all demands",
                                        [SLEW_MEETS_NOT] = "does not meet the demands",
                                        [SLEW_NOT_TOLD] = "too few simulated days to say"};
    return words[j->meets];
}

void cli_judged_words(const slew_judgment *j, char text[ROOM])
{
    text[0] = '\0';
    if (j->meets == SLEW_NOT_TOLD)
        add_untold(j, text);
    else
        cli_append(text, ROOM, "%s", cli_judged_short(j));
    if (j->meets == SLEW_MEETS_NOT) {
        cli_append(text, ROOM, ": ");
        cli_judged_add_all(j, SLEW_MEETS_NOT, text, ROOM);
    }
}

/* "keep-out zone in 1.84 %" */
static void add_brief(const slew_judgment *j, int demand, char *text)
{
    static const char *const words[SLEW_DEMAND_COUNT] = {[SLEW_DEMAND_KEEPOUT] = "keep-out zone in",
                                                         [SLEW_DEMAND_STOP] = "hard stop in",
                                                         [SLEW_DEMAND_FAULT] = "faults in",
                                                         [SLEW_DEMAND_DEPLOY] = "deploy outside in",
                                                         [SLEW_DEMAND_STOW] =
                                                             "stow off its point in",
                                                         [SLEW_DEMAND_FLOOR] = "low voltage in"};
    cli_append(text, ROOM, "%s %.2f %%", words[demand], cli_percent(j->of[demand].missed.value));
}

void cli_judged_brief(const slew_judgment *j, int letters, char text[ROOM])
{
    int64_t enough = cli_judged_enough(j);
    int count = 0, left_out = 0;
    text[0] = '\0';
    cli_append(text, ROOM, "%s",
               j->meets == SLEW_MEETS_NOT ? "fails the demands" : cli_judged_short(j));
    if (j->meets == SLEW_NOT_TOLD && enough > 0)
        cli_append(text, ROOM, " (%" PRId64 " would do)", enough);
    for (int d = 0; d < SLEW_DEMAND_COUNT && j->meets == SLEW_MEETS_NOT; d++)
        if (j->of[d].asked && j->of[d].meets == SLEW_MEETS_NOT) {
            size_t before = strlen(text);
            cli_append(text, ROOM, "%s", count > 0 ? ", " : ": ");
            add_brief(j, d, text);
            bool fits = count == 0 || (int)strlen(text) + TAIL <= letters;
            if (!fits)
                text[before] = '\0';
            left_out += !fits;
            count += fits;
        }
    cli_append(text, ROOM, "%s", count > 0 ? " of the days" : "");
    if (left_out > 0)
        cli_append(text, ROOM, ", %d more", left_out);
}

static bool is_danger(const slew_judgment *j, int demand)
{
    return demand <= SLEW_DEMAND_FAULT && j->of[demand].asked && j->of[demand].misses > 0;
}

static bool is_told(const slew_judgment *j, int demand)
{
    return j->meets != SLEW_MEETS && j->of[demand].meets == j->meets;
}

static void add_dangers(const slew_judgment *j, bool all, char text[ROOM])
{
    text[0] = '\0';
    for (int d = 0; d < SLEW_DEMAND_COUNT; d++)
        if (is_danger(j, d) && (all || !is_told(j, d)))
            cli_append(text, ROOM, "%s%s in %.2f %%", text[0] != '\0' ? ", " : "",
                       words_of((slew_demand)d), cli_percent(j->of[d].missed.value));
    cli_append(text, ROOM, "%s", text[0] != '\0' ? " of the simulated days" : "");
}

void cli_judged_dangers(const slew_judgment *j, char text[ROOM])
{
    add_dangers(j, true, text);
}

void cli_judged_dangers_left(const slew_judgment *j, char text[ROOM])
{
    add_dangers(j, false, text);
}

void cli_judged_dangers_short(const slew_judgment *j, char text[ROOM])
{
    text[0] = '\0';
    for (int d = 0; d < SLEW_DEMAND_COUNT; d++)
        if (is_danger(j, d))
            cli_append(text, ROOM, "%s%s", text[0] != '\0' ? ", " : "", words_of((slew_demand)d));
}

/* ---- truck by truck ---- */

static void tell_truck_state(cli_teller *t, const slew_truck_state *s, const char *word)
{
    cli_tell_open_if(t, word, s->asked);
    cli_tell_number(t, "missed_low", s->low);
    cli_tell_number(t, "missed_median", s->median);
    cli_tell_number(t, "missed_high", s->high);
    cli_tell_share(t, "within_limit", &s->within_limit);
    cli_tell_close(t);
}

void cli_tell_trucks(cli_teller *t, const void *what)
{
    const slew_trucks *trucks = what;
    cli_tell_integer(t, "trucks", trucks->trucks);
    cli_tell_integer(t, "days", trucks->days);
    for (int d = 0; d < SLEW_DEMAND_COUNT; d++)
        tell_truck_state(t, &trucks->of[d], slew_demand_word((slew_demand)d));
}

static void add_trucks(const slew_truck_state *s, const char *do_what, double limit,
                       char text[ROOM])
{
    const slew_share *within = &s->within_limit;
    if (!s->asked)
        return;
    cli_append(text, ROOM, " 95 %% of such trucks %s on %.1f to %.1f %% of their days", do_what,
               cli_percent(1 - s->high), cli_percent(1 - s->low));
    if (!isnan(within->value))
        cli_append(text, ROOM, ", %.0f %% of them (%.0f to %.0f) on at least %.4g %%",
                   cli_percent(within->value), cli_percent(within->low), cli_percent(within->high),
                   cli_percent(1 - limit));
    cli_append(text, ROOM, ".");
}

void cli_trucks_words(const slew_trucks *trucks, const slew_scenario *scenario, char text[ROOM])
{
    text[0] = '\0';
    if (trucks->trucks == 0)
        return;
    cli_append(text, ROOM, "Truck by truck (for what is not known about this one):");
    add_trucks(&trucks->of[SLEW_DEMAND_DEPLOY], "deploy inside the target",
               slew_demand_limit(&scenario->demands, SLEW_DEMAND_DEPLOY), text);
    add_trucks(&trucks->of[SLEW_DEMAND_STOW], "stow within tolerance",
               slew_demand_limit(&scenario->demands, SLEW_DEMAND_STOW), text);
}
