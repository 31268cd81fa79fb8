/* version.c - see version.h. */
#include "slewtime/version.h"

const char *slew_version(void)
{
    return SLEW_VERSION;
}

int slew_version_number(void)
{
    return SLEW_VERSION_NUMBER;
}

slew_status slew_check_layout(const slew_layout *theirs)
{
    const slew_layout own = SLEW_LAYOUT;
    if (theirs == NULL)
        return SLEW_ERROR_INPUT;
    bool fits = theirs->version / 1000 == own.version / 1000 && theirs->scenario == own.scenario &&
                theirs->setup == own.setup && theirs->prepared == own.prepared &&
                theirs->result == own.result && theirs->machine == own.machine &&
                theirs->error == own.error;
    return fits ? SLEW_OK : SLEW_ERROR_BUILD;
}
