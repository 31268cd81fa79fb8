/* document.c - what every file has in common that is read: bytes, text, tree, errors with places.
 */
#include "scenario/document.h"

#include <stdlib.h>

#include "keys/text.h"
#include "scenario/source.h"

/* ---- bytes ---- */

slew_status slew_document_load(const char *path, slew_error_sink errors, char **text,
                               size_t *length)
{
    slew_error error = {.status = SLEW_ERROR_FILE};
    *text = slew_source_read(path, length, &error);
    if (*text != NULL)
        return SLEW_OK;
    slew_say(error.source, sizeof error.source, "%s", path);
    if (errors.report != NULL && error.status != SLEW_ERROR_MEMORY)
        errors.report(errors.context, &error);
    return error.status;
}

/* ---- text and tree ---- */

slew_sources slew_document_sources(const char *text, size_t length, const char *name)
{
    if (text == NULL)
        text = "", length = 0;
    const char *start = slew_source_skip_mark(text, &length);
    return (slew_sources){.name = name ? name : "memory", .text = start, .length = length};
}

bool slew_document_tree(const slew_sources *sources, slew_report *errors, slew_tree *tree)
{
    slew_mark mark;
    slew_error error = {.status = SLEW_ERROR_INPUT};
    if (slew_source_is_text(sources->text, sources->length, &mark, &error))
        return slew_tree_read(tree, sources->text, sources->length, errors);
    slew_report_add(errors, mark, &error);
    return false;
}

/* ---- files that are no scenario ---- */

slew_status slew_document_read_memory(const slew_document *document, const char *text,
                                      size_t length, const char *name, slew_error_sink sink)
{
    slew_sources sources = slew_document_sources(text, length, name);
    slew_report errors = {.sources = &sources, .severity = SLEW_ERROR_INPUT};
    slew_reader *reader = slew_reader_open(&errors);
    slew_tree tree = {0};
    if (reader == NULL)
        return SLEW_ERROR_MEMORY;
    sources.begins = document->begins;
    if (slew_document_tree(&sources, &errors, &tree))
        document->walk(reader, &tree, document->out);
    slew_tree_free(&tree);
    slew_reader_close(reader);
    return slew_report_end(&errors, sink);
}

slew_status slew_document_read_file(const slew_document *document, const char *path,
                                    slew_error_sink errors)
{
    size_t length;
    char *text;
    slew_status status = slew_document_load(path, errors, &text, &length);
    if (status == SLEW_OK)
        status = slew_document_read_memory(document, text, length, path, errors);
    free(text);
    return status;
}
