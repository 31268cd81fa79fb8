/* report.c - see report.h. */
#include "report.h"

#include <errno.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "exit_code.h"
#include "letters.h"

/* ---- colour ---- */

bool cli_colour(FILE *stream)
{
    const char *off = getenv("NO_COLOR"), *terminal = getenv("TERM");
    if ((off != NULL && off[0] != '\0') || terminal == NULL || strcmp(terminal, "dumb") == 0)
        return false;
    return isatty(fileno(stream)) == 1;
}

const char *cli_bold(void)
{
    return cli_colour(stdout) ? "\033[1m" : "";
}

const char *cli_plain(void)
{
    return cli_colour(stdout) ? "\033[0m" : "";
}

static void label(const char *word, const char *colour)
{
    if (cli_colour(stderr))
        fprintf(stderr, "\033[1;%sm%s:\033[0m ", colour, word);
    else
        fprintf(stderr, "%s: ", word);
}

static void error_label(void)
{
    label("error", "31");
}

/* ---- errors of the library ---- */

static bool is_continuation(char byte)
{
    return ((unsigned char)byte & 0xC0) == 0x80;
}

/* a caret under the column, counted in characters; tabs stay tabs */
static void show_excerpt(const slew_error *error)
{
    const char *text = error->excerpt;
    if (text[0] == '\0' || error->column < 1)
        return;
    fprintf(stderr, "    %s\n    ", text);
    for (int column = 1; *text != '\0' && column < error->column; column++) {
        fputc(*text == '\t' ? '\t' : ' ', stderr);
        do
            text++;
        while (is_continuation(*text));
    }
    fputs(cli_colour(stderr) ? "\033[1;32m^\033[0m\n" : "^\n", stderr);
}

static void show_place(const slew_error *error)
{
    char source[sizeof error->source];
    snprintf(source, sizeof source, "%s", error->source);
    cli_letters_clean(source);
    fputs("slewtime:", stderr);
    if (source[0] != '\0')
        fprintf(stderr, "%s:", source);
    if (error->line > 0)
        fprintf(stderr, "%d:", error->line);
    if (error->line > 0 && error->column > 0)
        fprintf(stderr, "%d:", error->column);
    fputc(' ', stderr);
}

static bool begins_with(const char *text, const char *start)
{
    return strncmp(text, start, strlen(start)) == 0;
}

static void show_message(const slew_error *error)
{
    if (error->key[0] != '\0' && !begins_with(error->message, error->key))
        fprintf(stderr, "%s: ", error->key);
    fprintf(stderr, "%s\n", error->message);
    show_excerpt(error);
    if (error->expected[0] != '\0')
        fprintf(stderr, "  expected %s\n", error->expected);
    else if (error->status == SLEW_ERROR_FILE)
        fprintf(stderr, "  give the path of a scenario file that can be read\n");
    if (error->nearest[0] != '\0')
        fprintf(stderr, "  did you mean %s?\n", error->nearest);
}

void cli_report_error(const slew_error *error)
{
    show_place(error);
    error_label();
    show_message(error);
}

void cli_report_warning(const slew_error *warning)
{
    show_place(warning);
    label("warning", "33");
    show_message(warning);
}

void cli_tell_error(void *context, const slew_error *error)
{
    (void)context;
    cli_report_error(error);
}

/* ---- errors of the command line and of the world ---- */

enum { SHOWN_MAX = 8192 };

/* words of the command line are shown as they were written, but for what a terminal might act on */
static void show_line(const char *format, va_list arguments)
{
    char line[SHOWN_MAX];
    vsnprintf(line, sizeof line, format, arguments);
    cli_letters_clean(line);
    fputs("slewtime: ", stderr);
    error_label();
    fprintf(stderr, "%s\n", line);
}

int cli_complain(const cli_complaint *complaint, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    show_line(format, arguments);
    va_end(arguments);
    if (complaint->expected != NULL)
        fprintf(stderr, "  expected %s\n", complaint->expected);
    if (complaint->nearest != NULL)
        fprintf(stderr, "  did you mean %s?\n", complaint->nearest);
    if (complaint->help != NULL)
        fprintf(stderr, "  try slewtime %s%s--help\n", complaint->help,
                complaint->help[0] != '\0' ? " " : "");
    return CLI_WRONG;
}

int cli_fail(const char *way_out, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    show_line(format, arguments);
    va_end(arguments);
    if (way_out != NULL)
        fprintf(stderr, "  %s\n", way_out);
    return CLI_OUTSIDE;
}

int cli_fail_errno(const char *way_out, int error, const char *format, ...)
{
    char what[1024];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(what, sizeof what, format, arguments);
    va_end(arguments);
    return error == ENOMEM ? cli_no_memory() : cli_fail(way_out, "%s: %s", what, strerror(error));
}

int cli_no_memory(void)
{
    return cli_fail("close other programs and try again", "memory is short");
}

int cli_code(slew_status status)
{
    switch (status) {
    case SLEW_OK:
        return CLI_OK;
    case SLEW_ERROR_INPUT:
    case SLEW_ERROR_TEACH:
        return CLI_WRONG;
    default:
        return CLI_OUTSIDE;
    }
}
