/* ten_lines.c - reads a scenario, runs it, prints what the controller says and what is true. */
#include <slewtime/slewtime.h>
#include <stdio.h>

int main(int argc, char **argv)
{
    static slew_scenario scenario;
    slew_result result;
    if (argc != 2 || slew_scenario_read_file(argv[1], NULL, &scenario) != SLEW_OK ||
        slew_run(&scenario, SLEW_STOW_AND_DEPLOY, NULL, &result, NULL) != SLEW_OK)
        return fprintf(stderr, "needs a scenario that `slewtime check` finds ok\n"), 2;
    printf("stow: says %s, elevation %.4f rad\n", slew_verdict_word(result.stow.says),
           result.stow.angle[SLEW_ELEVATION]);
    printf("deploy: says %s, elevation %.4f rad\n", slew_verdict_word(result.deploy.says),
           result.deploy.angle[SLEW_ELEVATION]);
    return 0;
}
