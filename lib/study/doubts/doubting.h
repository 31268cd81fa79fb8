/* doubting.h - doubts as they are found. */
#ifndef SLEW_STUDY_DOUBTING_H
#define SLEW_STUDY_DOUBTING_H

#include "slewtime/doubts.h"
#include "slewtime/plant.h"

typedef struct slew_doubting {
    const slew_scenario *scenario;
    slew_occasion occasion;
    slew_setup setup; /* of the occasion */
    slew_doubt *list;
    int count;
} slew_doubting;

/* Adds a doubt about the key, unless it is told already or the list is full. */
void slew_doubt_add(slew_doubting *d, int key, double usual, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* The value of a key on this occasion. */
double slew_doubting_value(const slew_doubting *d, int key);

/* The key of an axis by the rest of its path, ".home.angle". */
int slew_doubting_key(int axis, const char *rest);

/* Looks for values that contradict each other, and for single ones far from what is usual. */
void slew_doubt_pairs(slew_doubting *d);
void slew_doubt_usual(slew_doubting *d);

#endif
