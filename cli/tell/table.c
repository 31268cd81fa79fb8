/* table.c - see table.h. */
#include "table.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "utf8.h"

/* how many columns a line takes: a change of color takes none */
static int width_of(const char *line)
{
    int width = cli_utf8_count(line);
    for (const char *at = line; (at = strchr(at, '\033')) != NULL; at++)
        width -= (int)strcspn(at, "m") + 1;
    return width;
}

/* adds blanks until the line has that many letters, and then the text */
static void append_at(char *line, int letters, const char *text, size_t length)
{
    size_t bytes = strlen(line);
    for (int have = cli_utf8_count(line); have < letters && bytes + 1 < CLI_TABLE_WIDTH_MAX; have++)
        line[bytes++] = ' ';
    snprintf(line + bytes, CLI_TABLE_WIDTH_MAX - bytes, "%.*s", (int)length, text);
}

/* each line of the head above the cell from `begin` to `end` [letters] */
static void add_heads(cli_table *t, const char *head, int begin, int end, bool is_text)
{
    for (int k = 0; k < t->heads && head != NULL; k++) {
        size_t length = strcspn(head, "\n");
        char line[CLI_TABLE_WIDTH_MAX];
        snprintf(line, sizeof line, "%.*s", (int)length, head);
        if (length > 0)
            append_at(t->head[k], is_text ? begin : end - cli_utf8_count(line), line, length);
        head = head[length] == '\n' ? head + length + 1 : NULL;
    }
}

static void add(cli_table *t, const char *head, bool is_text, const char *format, va_list arguments)
{
    size_t bytes = strlen(t->row);
    int begin = width_of(t->row);
    vsnprintf(t->row + bytes, CLI_TABLE_WIDTH_MAX - bytes, format, arguments);
    if (!t->is_told)
        add_heads(t, head, begin, width_of(t->row), is_text);
}

void cli_table_cell(cli_table *t, const char *head, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    add(t, head, false, format, arguments);
    va_end(arguments);
}

void cli_table_text(cli_table *t, const char *head, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    add(t, head, true, format, arguments);
    va_end(arguments);
}

void cli_table_number(cli_table *t, const char *head, int width, int decimals, double value)
{
    if (isfinite(value))
        cli_table_cell(t, head, " %*.*f", width, decimals, value);
    else
        cli_table_cell(t, head, " %*s", width, "-");
}

static void print_line(char *line)
{
    size_t length = strlen(line);
    while (length > 0 && line[length - 1] == ' ')
        length--;
    printf("%.*s\n", (int)length, line);
    line[0] = '\0';
}

static void print_heads(cli_table *t)
{
    for (int k = 0; k < t->heads && !t->is_told; k++)
        print_line(t->head[k]);
    t->is_told = true;
}

void cli_table_heads(cli_table *t)
{
    print_heads(t);
    t->row[0] = '\0';
}

void cli_table_end_row(cli_table *t)
{
    print_heads(t);
    print_line(t->row);
}
