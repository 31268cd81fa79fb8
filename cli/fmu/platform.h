/* platform.h - the name that FMI 3.0 has for the platform of a module. */
#ifndef SLEW_CLI_FMU_PLATFORM_H
#define SLEW_CLI_FMU_PLATFORM_H

#include <stddef.h>

/* The tuple of the platform that a shared library is built for, by its first bytes: "x86_64-linux".
 * NULL: it is none, or of an architecture for which the standard has no name. */
const char *cli_fmu_platform(const char *bytes, size_t length);

#endif
