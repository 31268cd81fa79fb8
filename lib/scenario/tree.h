/*
 * tree.h - a YAML text as a tree of maps, lists and scalars that know their line and column.
 *
 * Only what a scenario needs: one document, at most SLEW_TREE_DEPTH levels, no anchors, aliases or
 * tags. Scalars are texts, whatever YAML makes of them elsewhere.
 */
#ifndef SLEW_SCENARIO_TREE_H
#define SLEW_SCENARIO_TREE_H

#include "scenario/report.h"

enum { SLEW_TREE_DEPTH = 8 };

typedef enum slew_node_kind { SLEW_NODE_SCALAR, SLEW_NODE_MAP, SLEW_NODE_LIST } slew_node_kind;

typedef struct slew_node {
    slew_node_kind kind;
    bool nothing;      /* a scalar left empty, or null */
    size_t text;       /* of a scalar: where in the tree's texts */
    int first;         /* child; a map has keys and values in turn; -1: none */
    int next;          /* sibling; -1: none */
    slew_mark mark;    /* where it begins */
    size_t begin, end; /* the same, and behind its end, in characters from the start of the text; a
                          map or list without braces has no end of its own: that of its last child
                          counts */
    bool flow;         /* a map or list in braces */
} slew_node;

typedef struct slew_tree {
    slew_node *node; /* owned; node 0 is the root */
    int count, room;
    char *text; /* owned: the scalars, each with its end */
    size_t length, text_room;
} slew_tree;

/* Reads a tree from a text. false: the one thing that is wrong is in the report, or memory is
 * short. Free the tree in any case. */
bool slew_tree_read(slew_tree *tree, const char *text, size_t length, slew_report *errors);

void slew_tree_free(slew_tree *tree);

/* Text of a scalar, "" of any other node. */
const char *slew_node_text(const slew_tree *tree, int node);

#endif
