/* parts.c - nodes of the tree as the structures use them: kinds, fixed names, numbers. */
#include <string.h>

#include "keys/text.h"
#include "keys/values.h"
#include "scenario/reader.h"

/* ---- kinds of nodes ---- */

static const char *kind_words(slew_node_kind kind)
{
    return kind == SLEW_NODE_MAP ? "a map" : kind == SLEW_NODE_LIST ? "a list" : "a single value";
}

bool slew_reader_is(slew_reader *reader, const slew_tree *tree, int node, slew_node_kind kind,
                    const char *path, const char *expected)
{
    const slew_node *own = &tree->node[node];
    char message[96];
    if (own->kind == kind)
        return true;
    slew_say(message, sizeof message, "%s where %s belongs",
             own->nothing ? "nothing" : kind_words(own->kind), kind_words(kind));
    return slew_reader_refuse(reader, own->mark, path, message, expected);
}

const char *slew_reader_scalar(slew_reader *reader, const slew_tree *tree, int node,
                               const char *path, const char *expected)
{
    return slew_reader_is(reader, tree, node, SLEW_NODE_SCALAR, path, expected)
               ? slew_node_text(tree, node)
               : NULL;
}

/* ---- maps with a few fixed names ---- */

static void refuse_name(slew_reader *reader, const slew_tree *tree, int name, const char *path,
                        const char *words)
{
    slew_error error = {.status = SLEW_ERROR_INPUT};
    const char *text = slew_node_text(tree, name);
    slew_say(error.key, sizeof error.key, "%s.%s", path, text);
    slew_say(error.message, sizeof error.message, "unknown key");
    slew_say(error.expected, sizeof error.expected, "one of %s", words);
    slew_word_nearest(words, text, error.nearest);
    slew_report_add(reader->errors, tree->node[name].mark, &error);
}

static int find_word(const char *words, const char *text)
{
    const char *word;
    size_t length;
    for (int i = 0; (word = slew_word_next(&words, &length)) != NULL; i++)
        if (strlen(text) == length && memcmp(text, word, length) == 0)
            return i;
    return -1;
}

int slew_reader_which(slew_reader *reader, const slew_tree *tree, int name, const char *path,
                      const char *words, unsigned *seen)
{
    const char *text = slew_reader_scalar(reader, tree, name, path, words);
    int found = text ? find_word(words, text) : -1;
    if (text != NULL && found < 0)
        refuse_name(reader, tree, name, path, words);
    if (found >= 0 && *seen & 1u << found) {
        slew_reader_refuse(reader, tree->node[name].mark, path, "given twice", "");
        return -1;
    }
    *seen |= found >= 0 ? 1u << found : 0;
    return found;
}

/* ---- numbers ---- */

static const slew_key_row WEIGHT = {.key = {.path = "weight",
                                            .kind = SLEW_KEY_NUMBER,
                                            .quantity = "plain number",
                                            .unit = "",
                                            .low = 0,
                                            .low_open = true,
                                            .high = INFINITY,
                                            .example = "2"}};

static bool read(slew_reader *reader, const slew_tree *tree, const slew_key_row *row,
                 const char *path, int node, bool difference, double *value)
{
    slew_error error = {.status = SLEW_ERROR_INPUT};
    char expected[256];
    slew_value_expected(row, expected, sizeof expected);
    const char *text = slew_reader_scalar(reader, tree, node, path, expected);
    if (text == NULL)
        return false;
    bool right = difference ? slew_difference_read(&reader->units, row, text, value, &error)
                            : slew_value_read(&reader->units, row, text, value, &error);
    if (right)
        return true;
    slew_say(error.key, sizeof error.key, "%s", path);
    slew_report_add(reader->errors, tree->node[node].mark, &error);
    return false;
}

bool slew_reader_number(slew_reader *reader, const slew_tree *tree, const slew_key_row *row,
                        const char *path, int node, double *value)
{
    return read(reader, tree, row, path, node, false, value);
}

bool slew_reader_difference(slew_reader *reader, const slew_tree *tree, const slew_key_row *row,
                            const char *path, int node, double *value)
{
    return read(reader, tree, row, path, node, true, value);
}

bool slew_reader_weight(slew_reader *reader, const slew_tree *tree, const char *path, int node,
                        double *value)
{
    return slew_reader_number(reader, tree, &WEIGHT, path, node, value);
}
