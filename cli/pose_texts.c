/* pose_texts.c - see pose_texts.h. */
#include "pose_texts.h"

#include "csv.h"
#include "finding.h"
#include "letters.h"

/* ---- lines ---- */

static void write_text(FILE *stream, const char *kind, const char *align, cli_point at,
                       const char *text)
{
    fprintf(stream, "%s,%s,%.6g,%.6g,", kind, align, at.x, at.y);
    cli_csv_text(stream, text);
    fputc('\n', stream);
}

/* how many bytes of the text fit into the width: whole words if one does, at least a letter */
static int fitting(const cli_sheet *s, const char *text, double width)
{
    cli_label part = {0};
    int words = 0, whole = 0;
    for (int letters = 1; text[whole] != '\0'; letters++) {
        int bytes = cli_letters(text, letters);
        if (bytes >= (int)sizeof part.text)
            break;
        snprintf(part.text, sizeof part.text, "%.*s", bytes, text);
        if (letters > 1 && cli_text_width(&part, &s->lettering) > width)
            break;
        whole = bytes;
        if (text[bytes] == ' ' || text[bytes] == '\0')
            words = bytes;
    }
    return words > 0 ? words : whole;
}

/* Writes a text in lines of that width, downwards from `at`; without a stream it only counts.
 * Returns how many lines. */
static int write_wrapped(FILE *stream, const cli_sheet *s, const char *kind, cli_point at,
                         double width, const char *text)
{
    int lines = 0;
    for (; *text != '\0'; lines++) {
        char line[CLI_LABEL_TEXT_MAX];
        int bytes = fitting(s, text, width);
        snprintf(line, sizeof line, "%.*s", bytes, text);
        if (stream != NULL)
            write_text(stream, kind, "left", at, line);
        at.y -= s->lettering.line;
        text += bytes + (text[bytes] == ' ');
    }
    return lines;
}

/* ---- above a column ---- */

void cli_fan_sentence(const cli_pose *pose, char *text, size_t size)
{
    char words[CLI_FINDING_MAX];
    text[0] = '\0';
    if (pose->fan == NULL)
        return;
    cli_fan_words(pose->fan, pose->story, words, sizeof words);
    snprintf(text, size, "fan: %s; %s", pose->fan->sampling, words);
}

/* bold letters are wider */
static const double BOLD = 1.1;

/* what was found on which truck; in a picture of one pose its headings say it */
static int write_head(FILE *stream, const cli_sheet *s, int index)
{
    const cli_pose *pose = &s->pose[index];
    const char *title = pose->title != NULL ? pose->title : pose->story->scenario.title;
    char stow[CLI_FINDING_MAX], deploy[CLI_FINDING_MAX], fan[2 * CLI_FINDING_MAX];
    if (s->count == 1 && !s->is_terminal)
        return 0;
    cli_finding_stow(pose->story, "\u00B0", stow);
    cli_finding_deploy(pose->story, "\u00B0", deploy);
    cli_fan_sentence(pose, fan, sizeof fan);
    const char *texts[] = {title, stow, deploy, fan};
    cli_point at = s->head[index];
    int lines = 0;
    for (int i = 0; i < 4; i++) {
        int own = write_wrapped(stream, s, i == 0 ? "title" : "finding", at,
                                i == 0 ? s->head_width / BOLD : s->head_width, texts[i]);
        at.y -= own * s->lettering.line;
        lines += own;
    }
    return lines;
}

int cli_head_lines(const cli_sheet *sheet, int index)
{
    return write_head(NULL, sheet, index);
}

/* ---- above a view ---- */

static void say_tilt(const cli_story *story, char *text, size_t size)
{
    double stow = cli_degrees(story->prepared.stow_setup.environment.tilt);
    double deploy = cli_degrees(story->prepared.deploy_setup.environment.tilt);
    if (!cli_story_stows(story))
        stow = deploy;
    if (!cli_story_deploys(story))
        deploy = stow;
    text[0] = '\0';
    if (stow != deploy)
        snprintf(text, size, ", which tilts %.3g\u00B0 at the stow, %.3g\u00B0 at the deploy", stow,
                 deploy);
    else if (stow != 0)
        snprintf(text, size, ", which tilts %.3g\u00B0", stow);
}

static void write_caption(FILE *stream, const cli_sheet *s, int axis, int index)
{
    const cli_box *panel = &s->panel[axis][index];
    char tilt[80], text[160];
    say_tilt(s->pose[index].story, tilt, sizeof tilt);
    if (axis == SLEW_ELEVATION)
        snprintf(text, sizeof text, "Side view%s%s",
                 s->is_brief && tilt[0] == '\0' ? "" : ": elevation from the mount's base", tilt);
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
        write_text(stream, l->trouble ? "trouble" : "plain", is_left ? "right" : "left",
                   (cli_point){x, l->text_y}, l->text);
    }
}

void cli_texts_write(FILE *stream, const cli_sheet *sheet)
{
    fputs("kind,align,x,y,text\n", stream);
    for (int i = 0; i < sheet->count; i++) {
        write_head(stream, sheet, i);
        for (int axis = 0; axis < SLEW_AXES; axis++) {
            write_caption(stream, sheet, axis, i);
            write_names(stream, sheet, &sheet->dial[axis][i]);
        }
    }
}
