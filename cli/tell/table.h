/*
 * table.h - tables of text: a row tells each cell together with the head above it, so that no cell
 * can stand under a head of its neighbor.
 *
 *     cli_table table = {.heads = 2};
 *     for (...) {
 *         cli_table_cell(&table, "clearance\ndeg", "%9.2f", cli_degrees(step->clearance));
 *         cli_table_cell(&table, "point\ndeg", " %8.2f", cli_degrees(point));
 *         cli_table_end_row(&table);
 *     }
 */
#ifndef SLEW_CLI_TELL_TABLE_H
#define SLEW_CLI_TELL_TABLE_H

#include <stdbool.h>

enum { CLI_TABLE_HEADS_MAX = 3, CLI_TABLE_WIDTH_MAX = 600 };

typedef struct cli_table {
    int heads;    /* lines of head, printed above the first row */
    bool is_told; /* they are printed */
    char head[CLI_TABLE_HEADS_MAX][CLI_TABLE_WIDTH_MAX];
    char row[CLI_TABLE_WIDTH_MAX];
} cli_table;

/* Adds a cell to the row; lines of its head are separated by \n, and each ends where the cell ends.
 * A line that is longer than cell and gap begins behind the head before it and reaches over the
 * cells that follow, whose own heads should leave it room. */
void cli_table_cell(cli_table *table, const char *head, const char *format, ...);

/* The same for a text: its head begins where the cell begins. */
void cli_table_text(cli_table *table, const char *head, const char *format, ...);

/* A cell of so many columns, a blank before it, with a number of so many decimals; a dash where
 * there is none. */
void cli_table_number(cli_table *table, const char *head, int width, int decimals, double value);

/* Prints the row on stdout, before the first one the heads; blanks at the ends of lines are left
 * out. */
void cli_table_end_row(cli_table *table);

/* Prints the heads of the row that is told, and not the row: for a table in which a line of another
 * kind stands before the first row. */
void cli_table_heads(cli_table *table);

#endif
