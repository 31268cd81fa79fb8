/* document.h - what every file has in common that is read: bytes, text, tree, errors with places.
 */
#ifndef SLEW_SCENARIO_DOCUMENT_H
#define SLEW_SCENARIO_DOCUMENT_H

#include "scenario/reader.h"

/* The bytes of a file, the caller's to free. On anything but SLEW_OK the error is told, unless
 * memory is short, and *text is NULL. */
slew_status slew_document_load(const char *path, slew_error_sink errors, char **text,
                               size_t *length);

/* A text (NULL: empty) that errors call `name` (NULL: memory), without a byte order mark. */
slew_sources slew_document_sources(const char *text, size_t length, const char *name);

/* Reads the tree of a text. false: what is wrong is in the report. Free the tree in any case. */
bool slew_document_tree(const slew_sources *sources, slew_report *errors, slew_tree *tree);

/* How a file that is no scenario is walked: `begins` is what it is, and how it begins. */
typedef struct slew_document {
    const char *begins;
    void (*walk)(slew_reader *reader, const slew_tree *tree, void *out);
    void *out;
} slew_document;

/* Reads such a file from a file or from memory; the reader has no scenario. */
slew_status slew_document_read_file(const slew_document *document, const char *path,
                                    slew_error_sink errors);
slew_status slew_document_read_memory(const slew_document *document, const char *text,
                                      size_t length, const char *name, slew_error_sink errors);

#endif
