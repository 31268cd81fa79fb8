/* source.c - the bytes of a scenario file: reading them, and what they must be to be a text. */
#include "scenario/source.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "keys/text.h"

/* ---- reading ---- */

static void say(slew_error *error, slew_status status, const char *message)
{
    error->status = status;
    slew_say(error->message, sizeof error->message, "%s", message);
}

static void say_system(slew_error *error, const char *what, int number)
{
    char reason[128];
    if (strerror_r(number, reason, sizeof reason) != 0)
        snprintf(reason, sizeof reason, "error %d", number);
    error->status = SLEW_ERROR_FILE;
    slew_say(error->message, sizeof error->message, "%s: %s", what, reason);
}

/* reads up to `size` bytes; -1: error */
static ssize_t read_all(int file, char *text, size_t size)
{
    size_t have = 0;
    while (have < size) {
        ssize_t got = read(file, text + have, size - have);
        if (got < 0 && errno == EINTR)
            continue;
        if (got < 0)
            return -1;
        if (got == 0)
            break;
        have += (size_t)got;
    }
    return (ssize_t)have;
}

static bool is_readable(int file, slew_error *error)
{
    struct stat about;
    if (fstat(file, &about) != 0)
        say_system(error, "can't be read", errno);
    else if (S_ISDIR(about.st_mode))
        say(error, SLEW_ERROR_INPUT, "is a directory, not a file");
    else if (!S_ISREG(about.st_mode))
        say(error, SLEW_ERROR_INPUT, "is not a regular file");
    else if (about.st_size > SLEW_SOURCE_MAX)
        say(error, SLEW_ERROR_INPUT, "is larger than 1 MiB, the most such a file may have");
    else
        return true;
    return false;
}

static char *read_open(int file, size_t *length, slew_error *error)
{
    if (!is_readable(file, error))
        return NULL;
    char *text = malloc(SLEW_SOURCE_MAX + 1);
    if (text == NULL) {
        say(error, SLEW_ERROR_MEMORY, "memory is short");
        return NULL;
    }
    ssize_t got = read_all(file, text, SLEW_SOURCE_MAX);
    if (got < 0) {
        say_system(error, "can't be read", errno);
        free(text);
        return NULL;
    }
    *length = (size_t)got;
    text[got] = '\0';
    return text;
}

char *slew_source_read(const char *path, size_t *length, slew_error *error)
{
    int file = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY);
    if (file < 0) {
        say_system(error, "can't be opened", errno);
        return NULL;
    }
    char *text = read_open(file, length, error);
    close(file);
    return text;
}

/* ---- is it a text ---- */

const char *slew_source_skip_mark(const char *text, size_t *length)
{
    if (*length < 3 || memcmp(text, "\xEF\xBB\xBF", 3) != 0)
        return text;
    *length -= 3;
    return text + 3;
}

/* bytes of the line break at `text`, 0: none; YAML 1.1 has more of them than a line feed */
static size_t break_length(const char *text, size_t left)
{
    if (left >= 2 && text[0] == '\r' && text[1] == '\n')
        return 2;
    if (left >= 1 && (text[0] == '\n' || text[0] == '\r'))
        return 1;
    if (left >= 2 && memcmp(text, "\xC2\x85", 2) == 0)
        return 2;
    bool separator =
        left >= 3 && (memcmp(text, "\xE2\x80\xA8", 3) == 0 || memcmp(text, "\xE2\x80\xA9", 3) == 0);
    return separator ? 3 : 0;
}

static bool is_control(const char *text, size_t length)
{
    unsigned char first = (unsigned char)text[0];
    if (length == 2)
        return first == 0xC2 && (unsigned char)text[1] < 0xA0;
    if (length == 3) /* U+FFFE and U+FFFF, which are no characters */
        return memcmp(text, "\xEF\xBF\xBE", 3) == 0 || memcmp(text, "\xEF\xBF\xBF", 3) == 0;
    return length == 1 && first != '\t' && (first < 0x20 || first == 0x7F);
}

static bool not_text(slew_error *error, const char *message, const char *at)
{
    slew_say(error->message, sizeof error->message, "%s (byte 0x%02X)", message,
             (unsigned)(unsigned char)*at);
    slew_say(error->expected, sizeof error->expected, "a YAML text in UTF-8");
    return false;
}

bool slew_source_is_text(const char *text, size_t length, slew_mark *mark, slew_error *error)
{
    *mark = (slew_mark){SLEW_FROM_FILE, 1, 1};
    for (size_t i = 0, step; i < length; i += step) {
        if ((step = break_length(text + i, length - i)) > 0) {
            mark->line++;
            mark->column = 1;
            continue;
        }
        step = slew_utf8_length(text + i, length - i);
        if (step == 0)
            return not_text(error, "not a text in UTF-8", text + i);
        if (is_control(text + i, step))
            return not_text(error, "a binary file, not a text", text + i);
        mark->column++;
    }
    return true;
}

const char *slew_source_line(const char *text, size_t length, int line, size_t *line_length)
{
    *line_length = 0;
    if (text == NULL || line < 1)
        return NULL;
    const char *end = text + length;
    while (line > 1 && text < end) {
        size_t step = break_length(text, (size_t)(end - text));
        line -= step > 0;
        text += step > 0 ? step : 1;
    }
    if (line > 1)
        return NULL;
    while (text + *line_length < end &&
           break_length(text + *line_length, (size_t)(end - text) - *line_length) == 0)
        ++*line_length;
    return text;
}
