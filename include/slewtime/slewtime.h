/* slewtime.h - all of the library; see the headers it includes. */
#ifndef SLEWTIME_H
#define SLEWTIME_H

#define SLEW_VERSION "0.1.0"

#include "slewtime/api.h"
#include "slewtime/card.h"
#include "slewtime/catalogue.h"
#include "slewtime/causes.h"
#include "slewtime/demands.h"
#include "slewtime/differences.h"
#include "slewtime/doubts.h"
#include "slewtime/drive.h"
#include "slewtime/edit.h"
#include "slewtime/facts.h"
#include "slewtime/feed.h"
#include "slewtime/fit.h"
#include "slewtime/machine.h"
#include "slewtime/magnet.h"
#include "slewtime/map.h"
#include "slewtime/margin.h"
#include "slewtime/nozzle.h"
#include "slewtime/offset.h"
#include "slewtime/physics.h"
#include "slewtime/plan.h"
#include "slewtime/plant.h"
#include "slewtime/read.h"
#include "slewtime/rest.h"
#include "slewtime/run.h"
#include "slewtime/scenario.h"
#include "slewtime/setup.h"
#include "slewtime/speed.h"
#include "slewtime/status.h"
#include "slewtime/study.h"
#include "slewtime/timing.h"
#include "slewtime/window.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The version of the library that is linked, SLEW_VERSION of its headers. */
SLEW_API const char *slew_version(void);

#ifdef __cplusplus
}
#endif

#endif
