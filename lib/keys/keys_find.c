/* keys_find.c - keys and groups by path, and the nearest one to a misspelt path. */
#include <string.h>

#include "keys/keys.h"
#include "keys/text.h"

/* ---- exact ---- */

int slew_key_find(const char *path)
{
    if (path == NULL)
        return -1;
    for (int i = 0; i < slew_key_count(); i++)
        if (strcmp(slew_key_at(i)->path, path) == 0)
            return i;
    return -1;
}

bool slew_key_within(int index, const char *path, size_t length)
{
    const char *own = slew_key_at(index)->path;
    return length == 0 || (strncmp(own, path, length) == 0 && own[length] == '.');
}

int slew_group_find(const char *path)
{
    size_t length = strlen(path);
    if (length == 0)
        return -1;
    for (int i = 0; i < slew_key_count(); i++)
        if (slew_key_within(i, path, length))
            return i;
    return -1;
}

int slew_path_depth(const char *path)
{
    int names = 1;
    for (; *path != '\0'; path++)
        if (*path == '.')
            names++;
    return names;
}

const char *slew_word_next(const char **words, size_t *length)
{
    const char *word = *words;
    if (*word == '\0')
        return NULL;
    const char *end = strstr(word, " | ");
    *length = end ? (size_t)(end - word) : strlen(word);
    *words = end ? end + 3 : word + *length;
    return word;
}

/* ---- distance ---- */

static int least(int a, int b)
{
    return a < b ? a : b;
}

/* fewest letters to insert, delete, replace or swap with the next (optimal string alignment) */
static int distance(const char *a, size_t na, const char *b, size_t nb)
{
    int rows[3][SLEW_PATH_MAX + 1];
    int *before = rows[0], *last = rows[1], *now = rows[2];
    for (size_t j = 0; j <= nb; j++)
        last[j] = (int)j;
    for (size_t i = 1; i <= na; i++) {
        now[0] = (int)i;
        for (size_t j = 1; j <= nb; j++) {
            int replaced = last[j - 1] + (a[i - 1] != b[j - 1]);
            now[j] = least(replaced, least(last[j], now[j - 1]) + 1);
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                now[j] = least(now[j], before[j - 2] + 1);
        }
        int *spare = before;
        before = last;
        last = now;
        now = spare;
    }
    return last[nb];
}

/* how far a misspelling may lie from the right word */
static int reach(size_t length)
{
    return least(length < 3 ? 1 : (int)(length / 3), 6);
}

typedef struct guess {
    const char *text; /* NULL: none yet */
    size_t length;
    int index;
    int distance;
} guess;

static const char *last_name(const char *path, size_t length)
{
    const char *start = path + length;
    while (start > path && start[-1] != '.')
        start--;
    return start;
}

/* length of the group that both paths lie in, with its last point */
static size_t shared_group(const char *a, size_t na, const char *b, size_t nb)
{
    size_t group = 0;
    for (size_t i = 0; i < na && i < nb && a[i] == b[i]; i++)
        if (a[i] == '.')
            group = i + 1;
    return group;
}

/* "main.voltage" of supply.main.voltage */
static bool is_tail(const char *path, size_t np, const char *own, size_t no)
{
    bool several = memchr(path, '.', np) != NULL;
    return several && np < no && own[no - np - 1] == '.' && memcmp(own + no - np, path, np) == 0;
}

/* "volts" of voltage: an ending that is another one */
static bool begins_like(const char *wanted, size_t nw, const char *found, size_t nf)
{
    size_t same = 0;
    while (same < nw && same < nf && wanted[same] == found[same])
        same++;
    return same >= 4 && same + 1 >= nw;
}

/* the path is right but for names left out before the last one, or an end left out of that */
static bool same_ending(const char *path, size_t np, const char *own, size_t no)
{
    const char *wanted = last_name(path, np), *found = last_name(own, no);
    size_t nw = (size_t)(path + np - wanted), nf = (size_t)(own + no - found);
    size_t group = shared_group(path, np, own, no);
    bool same_top = group > 0 || wanted == path;
    bool begins = nw >= 3 && nw <= nf && memcmp(wanted, found, nw) == 0;
    bool alike = path + group == wanted && own + group == found && group > 0 &&
                 begins_like(wanted, nw, found, nf);
    return (begins && same_top) || alike || is_tail(path, np, own, no);
}

static void consider(guess *best, const char *path, const char *own, size_t length, int index)
{
    size_t np = strlen(path);
    size_t shared = shared_group(path, np, own, length);
    int d = distance(path + shared, np - shared, own + shared, length - shared);
    if (d > reach(np - shared)) {
        if (!same_ending(path, np, own, length))
            return;
        d += SLEW_PATH_MAX; /* behind every misspelling */
    }
    if (best->text == NULL || d < best->distance)
        *best = (guess){own, length, index, d};
}

int slew_key_nearest(const char *path)
{
    guess best = {.index = -1};
    if (path == NULL || strlen(path) >= SLEW_PATH_MAX)
        return -1;
    for (int i = 0; i < slew_key_count(); i++)
        consider(&best, path, slew_key_at(i)->path, strlen(slew_key_at(i)->path), i);
    return best.index;
}

static void copy_guess(const guess *best, char text[SLEW_PATH_MAX])
{
    memcpy(text, best->text ? best->text : "", best->length);
    text[best->length] = '\0';
}

bool slew_path_nearest(const char *path, char text[SLEW_PATH_MAX])
{
    guess best = {.index = -1};
    bool short_enough = strlen(path) < SLEW_PATH_MAX;
    for (int i = 0; i < slew_key_count() && short_enough; i++) {
        const char *own = slew_key_at(i)->path;
        consider(&best, path, own, strlen(own), i);
        for (const char *point = strchr(own, '.'); point; point = strchr(point + 1, '.'))
            consider(&best, path, own, (size_t)(point - own), i);
    }
    copy_guess(&best, text);
    return best.text != NULL;
}

bool slew_word_nearest(const char *words, const char *word, char text[SLEW_PATH_MAX])
{
    guess best = {.index = -1};
    const char *own;
    size_t length;
    while (strlen(word) < SLEW_PATH_MAX && (own = slew_word_next(&words, &length)) != NULL) {
        int d = distance(word, strlen(word), own, length);
        if (d <= reach(strlen(word)) && (best.text == NULL || d < best.distance))
            best = (guess){own, length, 0, d};
    }
    copy_guess(&best, text);
    return best.text != NULL;
}
