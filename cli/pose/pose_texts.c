/* pose_texts.c - the texts on the sheet of the pose picture. */
#include "pose_sheet.h"

#include <inttypes.h>
#include <string.h>

#include "single/outcome_sentence.h"
#include "tell/csv.h"
#include "tell/provenance.h"
#include "tell/units.h"
#include "tell/utf8.h"

/* ---- lines ---- */

typedef struct line {
    const char *kind, *align;
    cli_point at;
    const char *text;
} line;

static void tell_line(cli_teller *t, const void *what)
{
    const line *l = what;
    cli_tell_text(t, "kind", l->kind);
    cli_tell_text(t, "align", l->align);
    cli_tell_number(t, "x", l->at.x);
    cli_tell_number(t, "y", l->at.y);
    cli_tell_text(t, "text", l->text);
}

/* letters of running text of 16 points, and of bold [pixels], about */
static const double LETTER = 10.8, BOLD_LETTER = 12.5;

static int letters_in(const cli_sheet *s, const char *kind, double width)
{
    double letter = strcmp(kind, "title") == 0 ? BOLD_LETTER : LETTER;
    return (int)(width / (s->is_terminal ? s->lettering.cell_width : letter * s->lettering.scale));
}

/* Writes a text in lines of that width, downwards from `at`; without a stream it only counts.
 * Returns how many lines. */
static int write_wrapped(FILE *stream, const cli_sheet *s, const char *kind, cli_point at,
                         double width, const char *text)
{
    int lines = 0, letters = letters_in(s, kind, width);
    for (; *text != '\0'; lines++) {
        char words[4 * 160 + 1];
        int bytes = cli_utf8_line(text, letters < 160 ? letters : 160);
        snprintf(words, sizeof words, "%.*s", bytes, text);
        if (stream != NULL)
            cli_csv_values(stream, tell_line, &(line){kind, "left", at, words});
        at.y -= s->lettering.line;
        text += bytes;
        text += strspn(text, " ");
    }
    return lines;
}

/* ---- above a column ---- */

void cli_fan_sentence(const cli_pose *pose, char *text, size_t size)
{
    char words[CLI_SENTENCE_MAX];
    text[0] = '\0';
    if (pose->fan == NULL)
        return;
    cli_fan_words(pose->fan, pose->single, words, sizeof words);
    snprintf(text, size, "Fan of %" PRId64 " simulated days: %s", pose->fan->rest.done, words);
}

static int write_findings(FILE *stream, const cli_sheet *s, int index, cli_point at)
{
    const cli_pose *pose = &s->pose[index];
    char stow[CLI_SENTENCE_MAX], deploy[CLI_SENTENCE_MAX], fan[2 * CLI_SENTENCE_MAX];
    if (pose->why_not != NULL)
        return write_wrapped(stream, s, "finding", at, s->head_width, pose->why_not);
    cli_outcome_stow(pose->single, stow);
    cli_outcome_deploy(pose->single, deploy);
    cli_fan_sentence(pose, fan, sizeof fan);
    if (s->is_slide) /* the pose itself says the rest */
        deploy[0] = fan[0] = '\0';
    const char *texts[] = {stow, deploy, fan};
    int lines = 0;
    for (int i = 0; i < 3; i++) {
        cli_point next = {at.x, at.y - lines * s->lettering.line};
        lines += write_wrapped(stream, s, "finding", next, s->head_width, texts[i]);
    }
    return lines;
}

/* what was found on which truck; in a picture of one pose its headings say it */
static int write_head(FILE *stream, const cli_sheet *s, int index)
{
    const cli_pose *pose = &s->pose[index];
    const char *title = pose->title != NULL ? pose->title : pose->single->scenario->title;
    cli_point at = s->head[index];
    if (s->count == 1 && !s->is_terminal)
        return 0;
    if (s->count == 1) { /* in a terminal */
        int lines = write_findings(stream, s, index, at);
        at.y -= lines * s->lettering.line;
        return lines + write_wrapped(stream, s, "title", at, s->head_width, title);
    }
    int lines = write_wrapped(stream, s, "title", at, s->head_width, title);
    at.y -= lines * s->lettering.line;
    return lines + write_findings(stream, s, index, at);
}

int cli_head_lines(const cli_sheet *sheet, int index)
{
    return write_head(NULL, sheet, index);
}

/* ---- above a view ---- */

/* ", tilted 4 deg", or ", tilted 0 deg, at the deploy 4 deg"; empty on the level */
static void say_tilt(const cli_single *single, char *text, size_t size)
{
    double stow = cli_degrees(single->prepared.stow_setup.environment.tilt);
    double deploy = cli_degrees(single->prepared.deploy_setup.environment.tilt);
    if (!cli_single_stows(single))
        stow = deploy;
    if (!cli_single_deploys(single))
        deploy = stow;
    text[0] = '\0';
    if (stow != deploy)
        snprintf(text, size, ", tilted %.3g\u00B0, at the deploy %.3g\u00B0", stow, deploy);
    else if (stow != 0)
        snprintf(text, size, ", tilted %.3g\u00B0", stow);
}

static void write_caption(FILE *stream, const cli_sheet *s, int axis, int index)
{
    const cli_box *panel = &s->panel[axis][index];
    char tilt[80], text[160];
    say_tilt(s->pose[index].single, tilt, sizeof tilt);
    if (axis == SLEW_ELEVATION)
        snprintf(text, sizeof text, "Side view%s", tilt);
    else
        snprintf(text, sizeof text, "From above%s",
                 s->is_brief ? "" : ": rotation, 0\u00B0 is ahead, + is right");
    cli_point at = {panel->left, panel->top + s->lettering.line};
    write_wrapped(stream, s, "caption", at, panel->right - panel->left, text);
}

/* ---- around a dial ---- */

static void write_names(FILE *stream, const cli_sheet *s, const cli_dial *dial)
{
    for (int i = 0; i < dial->marks.count; i++) {
        const cli_label *l = &dial->marks.mark[i].label;
        /* of the dial: the text ends at it; in a terminal widths are exact either way */
        bool is_left = l->end_x > l->text_x && !s->is_terminal;
        double x = is_left ? l->text_x + cli_text_width(l, &s->lettering) : l->text_x;
        if (l->text[0] != '\0')
            cli_csv_values(stream, tell_line,
                           &(line){l->trouble ? "trouble" : "plain",
                                   is_left ? "right" : "left",
                                   {x, l->text_y},
                                   l->text});
    }
}

/* below its column; that of a single pose is a variable of the script */
static void write_origin(FILE *stream, const cli_sheet *s, int index)
{
    char hash[CLI_HASH_MAX], text[CLI_HASH_MAX + 16];
    if (s->count == 1 || s->is_terminal || s->is_slide)
        return;
    cli_provenance_hash(s->pose[index].single->scenario, hash);
    snprintf(text, sizeof text, "scenario %s", hash);
    cli_csv_values(stream, tell_line, &(line){"origin", "left", {s->head[index].x, 16}, text});
}

void cli_texts_write(FILE *stream, const void *what)
{
    const cli_sheet *sheet = what;
    cli_csv_names(stream, tell_line, &(line){0});
    for (int i = 0; i < sheet->count; i++) {
        write_head(stream, sheet, i);
        write_origin(stream, sheet, i);
        for (int axis = 0; axis < SLEW_AXES && sheet->pose[i].why_not == NULL; axis++) {
            if (!sheet->shows[axis])
                continue;
            write_caption(stream, sheet, axis, i);
            write_names(stream, sheet, &sheet->dial[axis][i]);
        }
    }
}
