/* check.h - what no single value can tell, with the places of the keys where they are known. */
#ifndef SLEW_SCENARIO_CHECK_H
#define SLEW_SCENARIO_CHECK_H

#include "scenario/reader.h"

typedef struct slew_checker {
    const slew_scenario *scenario;
    const slew_marks *marks; /* NULL: places are not known */
    slew_report *errors;
    slew_report *warnings;
    slew_report *of_spread;      /* takes what is wrong with the spread */
    const char *const *unneeded; /* see slew_reading; NULL: all that a run needs is needed */
} slew_checker;

/* Everything below, in turn, and values that belong together. */
void slew_check_all(const slew_checker *checker);

void slew_check_missing(const slew_checker *checker);  /* required keys */
void slew_check_boxes(const slew_checker *checker);    /* keep-out */
void slew_check_spread(const slew_checker *checker);   /* distributions */
void slew_check_warnings(const slew_checker *checker); /* right, but doubtful */

/* Where a key of a layer was found; from nowhere if that is not known. */
slew_mark slew_checker_mark(const slew_checker *checker, slew_layer_id layer, int key);

/* The uppermost layer of the stack that holds the key; the file if none does. */
slew_layer_id slew_checker_layer(const slew_checker *checker, const slew_layer_id *layers,
                                 int count, int key);

#endif
