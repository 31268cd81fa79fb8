/* run_scenario.c - reads a scenario, runs it, prints what the controller says and what is true. */
#include <slewtime/slewtime.h>
#include <stdio.h>

int main(int argc, char **argv)
{
    static slew_scenario scenario;
    slew_result result;
    slew_error error = {0};
    const double degree = 180 / 3.14159265358979323846;

    if (argc != 2 || slew_scenario_read_file(argv[1], NULL, &scenario) != SLEW_OK)
        return fprintf(stderr, "needs a scenario that `slewtime check` finds ok\n"), 2;
    if (slew_run(&scenario, SLEW_STOW_AND_DEPLOY, NULL, &result, &error) != SLEW_OK)
        return fprintf(stderr, "%s\n", error.message), 2;
    const slew_part *part[] = {&result.stow, &result.deploy};
    for (int i = 0; i < (scenario.deploy.given ? 2 : 1); i++)
        printf("says %s (fault: %s), rotation %.2f deg, elevation %.2f deg\n",
               slew_verdict_word(part[i]->says), slew_fault_word(part[i]->fault),
               degree * part[i]->angle[SLEW_ROTATION], degree * part[i]->angle[SLEW_ELEVATION]);
    return 0;
}
