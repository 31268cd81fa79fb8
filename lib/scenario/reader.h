/*
 * reader.h - what the parts of one reading share: the scenario that grows, where each of its keys
 * was found, and the errors so far.
 */
#ifndef SLEW_SCENARIO_READER_H
#define SLEW_SCENARIO_READER_H

#include "keys/units.h"
#include "scenario/report.h"
#include "scenario/tree.h"

enum { SLEW_LAYERS = 4 };

/* Where everything was found; a mark from nowhere: not found. */
typedef struct slew_marks {
    slew_mark root;
    slew_mark key[SLEW_LAYERS][SLEW_KEYS_MAX];
    slew_mark group[SLEW_KEYS_MAX][SLEW_PATH_DEPTH]; /* of the file: by first key and depth */
    bool excused[SLEW_KEYS_MAX]; /* may be missing: an error that is told already explains it */
    slew_mark box[SLEW_KEEPOUT_MAX];
    slew_mark truck[SLEW_VARIATIONS_MAX];
    slew_mark day[SLEW_VARIATIONS_MAX];
    slew_mark correlation[SLEW_CORRELATIONS_MAX];
} slew_marks;

typedef struct slew_reader {
    slew_scenario *scenario;
    slew_marks marks;
    slew_units units;
    slew_report *errors;
    slew_report *of_spread; /* what is wrong with the file's spread: errors, or warnings where
                               nothing is drawn */
} slew_reader;

/* A reader that knows every unit, its errors told to the report; NULL: memory is short. Close it
 * before calling anything of the user's. */
slew_reader *slew_reader_open(slew_report *errors);
void slew_reader_close(slew_reader *reader);

/* Fills in what follows from the motors' data sheets, and says what lacks, is assumed or disagrees.
 */
void slew_reader_complete_motors(slew_reader *reader, slew_report *warnings);

/* Adds an error; `expected` may be "". Returns false. */
bool slew_reader_refuse(slew_reader *reader, slew_mark mark, const char *key, const char *message,
                        const char *expected);

/* Sets one key of a layer from the text of its value: the one way in for file and assignments. A
 * value that can't be read leaves NaN and its error behind. */
bool slew_reader_set(slew_reader *reader, slew_layer_id layer, int key, const char *text,
                     slew_mark mark);

/* Says that a path is no key, with the nearest one; what is near is then not missed any more. */
void slew_reader_unknown(slew_reader *reader, slew_layer_id layer, const char *path,
                         slew_mark mark);

/* true if the layer may hold the key; otherwise said. */
bool slew_reader_may_hold(slew_reader *reader, slew_layer_id layer, int key, slew_mark mark);

/* Reads a tree into the scenario: every key of the file and its layers. */
void slew_reader_walk(slew_reader *reader, const slew_tree *tree);

/* Sets a key by its path; what is wrong with the path is said at its own mark. */
void slew_reader_set_path(slew_reader *reader, slew_layer_id layer, const char *path,
                          slew_mark path_mark, const char *value, slew_mark value_mark);

/* Applies "PATH=VALUE", assignment number `number`, to its layer. */
void slew_reader_assign(slew_reader *reader, const slew_assignment *assignment, size_t number);

/* The structures that are not single keys. `node` is the value. */
void slew_reader_choices(slew_reader *reader, const slew_tree *tree, int key, int node);
void slew_reader_keepout(slew_reader *reader, const slew_tree *tree, int node);
void slew_reader_spread(slew_reader *reader, const slew_tree *tree, slew_structure structure,
                        int node);
/* The key of a path if it may vary, of trucks or from day to day; else -1, and said. */
int slew_reader_varied_key(slew_reader *reader, const char *path, slew_mark mark, bool of_day);

/* The distribution of the key at a node. false: said. */
bool slew_reader_variation(slew_reader *reader, const slew_tree *tree, int key, int node,
                           slew_variation *out);

/* Changes the spread of one key: truck or day where it stands, day if it is new; "none" takes it
 * out. */
void slew_reader_respread(slew_reader *reader, const char *path, slew_mark path_mark,
                          const char *value, slew_mark value_mark);
void slew_reader_correlation(slew_reader *reader, const slew_tree *tree, int node);

/* Which of the words "a | b" a name in a map is; -1, and said, if none of them or there already. */
int slew_reader_which(slew_reader *reader, const slew_tree *tree, int name, const char *path,
                      const char *words, unsigned *seen);

/* A node's value as one of the key `row`, or as a difference of two; errors name `path`. */
bool slew_reader_number(slew_reader *reader, const slew_tree *tree, const slew_key_row *row,
                        const char *path, int node, double *value);
bool slew_reader_difference(slew_reader *reader, const slew_tree *tree, const slew_key_row *row,
                            const char *path, int node, double *value);

/* A weight, a plain number above 0. */
bool slew_reader_weight(slew_reader *reader, const slew_tree *tree, const char *path, int node,
                        double *value);

/* The scalar of a node, or NULL after an error: a map or list stands in its place. */
const char *slew_reader_scalar(slew_reader *reader, const slew_tree *tree, int node,
                               const char *path, const char *expected);

/* true if the node is of the kind; otherwise said, with what was expected. */
bool slew_reader_is(slew_reader *reader, const slew_tree *tree, int node, slew_node_kind kind,
                    const char *path, const char *expected);

#endif
