/*
 * kept.h - the current directory and tmp/ in it kept as they are, and put back: other names for the
 * same files, so that what removes or renames one loses nothing.
 */
#ifndef SLEW_TESTS_KEPT_H
#define SLEW_TESTS_KEPT_H

#include "faults.h"

enum { KEPT_MAX = 32, KEPT_PATH = 600 };

typedef struct kept {
    char path[KEPT_MAX][KEPT_PATH]; /* of a directory with a slash at its end */
    int count;
} kept;

static inline bool is_directory(const char *path)
{
    struct stat s;
    return lstat(path, &s) == 0 && S_ISDIR(s.st_mode);
}

/* every path below `directory` but `other/`, directories before what they hold */
static inline void list_below(const char *directory, kept *k)
{
    char path[KEPT_PATH - 1];
    DIR *open = opendir(directory[0] != '\0' ? directory : ".");
    assert_non_null(open);
    for (struct dirent *e; (e = readdir(open)) != NULL;) {
        if (strcmp(e->d_name, ".") == 0 || strcmp(e->d_name, "..") == 0 ||
            strcmp(e->d_name, "other") == 0)
            continue;
        assert_true(k->count < KEPT_MAX);
        snprintf(path, sizeof path, "%s%s", directory, e->d_name);
        bool inner = is_directory(path);
        snprintf(k->path[k->count++], KEPT_PATH, "%s%s", path, inner ? "/" : "");
        if (inner)
            list_below(k->path[k->count - 1], k);
    }
    closedir(open);
}

static inline void other_name(int index, char name[32])
{
    snprintf(name, 32, "other/%d", index);
}

static inline void keep_directory(kept *k)
{
    char name[32];
    k->count = 0;
    mkdir("other", 0700);
    list_below("", k);
    for (int i = 0; i < k->count; i++) {
        other_name(i, name);
        if (k->path[i][strlen(k->path[i]) - 1] != '/')
            assert_int_equal(link(k->path[i], name), 0);
    }
}

/* removes what is there now, then gives each its name again */
static inline void put_directory_back(const kept *k)
{
    static kept now;
    char name[32];
    now.count = 0;
    list_below("", &now);
    for (int i = now.count - 1; i >= 0; i--)
        assert_int_equal(remove(now.path[i]), 0);
    for (int i = 0; i < k->count; i++) {
        other_name(i, name);
        if (k->path[i][strlen(k->path[i]) - 1] == '/')
            assert_int_equal(mkdir(k->path[i], 0700), 0);
        else
            assert_int_equal(rename(name, k->path[i]), 0);
    }
}

#endif
