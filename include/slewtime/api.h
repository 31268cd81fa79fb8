/* api.h - what a program may call: marked so in each header, and all that a shared library shows.
 */
#ifndef SLEWTIME_API_H
#define SLEWTIME_API_H

#if defined(SLEW_API)
/* somebody's own mark, for example of a build for Windows */
#elif defined(__GNUC__)
#define SLEW_API __attribute__((visibility("default")))
#else
#define SLEW_API
#endif

#endif
