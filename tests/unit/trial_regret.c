/*
 * trial_regret.c - after one visit the seconds chosen are nearly as good as the best, on three
 * trucks that are richer than the model and far from their sheet. tests/bench/trial.c does it
 * on 20. Runs from the project's root.
 */
#include "../trial.h"

enum { TRUCKS = 3, DAYS = 60, SAMPLES = 256, WINDOWS = 2 };

static const double WIDTH[WINDOWS] = {20, 4};
static const uint64_t NUMBER[TRUCKS] = {3, 4, 6};

/* means over the trucks, of one window */
typedef struct tally {
    double by_fit, by_sheet, variance;
} tally;

static void visit(const char *text, uint64_t number, tally all[WINDOWS])
{
    static slew_timings readings;
    static truck_days lived;
    dice d = {.truck = number};
    slew_scenario sheet = read_scenario(text);
    const truck t = draw_truck(&sheet, &d);
    make_visit(&t, &readings, &d);
    const slew_scenario fitted = calibrated(text, &readings);
    ask_seconds(&sheet, WIDTH[0]);
    live_through(&t, &sheet, DAYS, &d, &lived);
    for (int w = 0; w < WINDOWS; w++) {
        regret r = judge(&lived, choose(fitted, WIDTH[w], SAMPLES).choice, WIDTH[w]);
        regret s = judge(&lived, choose(sheet, WIDTH[w], SAMPLES).choice, WIDTH[w]);
        all[w].by_fit += (r.best - r.chosen) / TRUCKS;
        all[w].by_sheet += (s.best - s.chosen) / TRUCKS;
        all[w].variance += r.variance / (TRUCKS * TRUCKS);
    }
}

/* of these trucks the sheet alone is worse than that */
static void at_most_three_points_beyond_noise(void **state)
{
    slew_error error;
    tally all[WINDOWS] = {0};
    char *text = slew_scenario_text(TRIAL_SHEET, &error);
    (void)state;
    assert_non_null(text);
    for (int i = 0; i < TRUCKS; i++)
        visit(text, NUMBER[i], all);
    free(text);
    for (int w = 0; w < WINDOWS; w++) {
        double most = 0.03 + 2 * sqrt(all[w].variance);
        print_message("%.0f deg: regret %.1f points, at most %.1f; by the sheet %.1f\n", WIDTH[w],
                      100 * all[w].by_fit, 100 * most, 100 * all[w].by_sheet);
        assert_true(all[w].by_fit <= most);
    }
    assert_true(all[0].by_sheet > 0.03 + 2 * sqrt(all[0].variance));
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(at_most_three_points_beyond_noise)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
