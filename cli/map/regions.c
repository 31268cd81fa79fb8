/* regions.c - the regions of a map and where their letters stand. */
#include "answer.h"

#include <stdlib.h>

enum { LETTER_ROOM = 4 }; /* a region with less half width [cells] has no letter */

static size_t cell_at(const slew_map *map, int x, int y)
{
    return (size_t)y * (size_t)map->width + (size_t)x;
}

int cli_map_code_at(const slew_map *map, int x, int y)
{
    bool inside = x >= 0 && y >= 0 && x < map->width && y < map->height;
    return inside ? cli_map_code(map->cell[cell_at(map, x, y)]) : -1;
}

/* how many cells it is to the nearest other outcome, straight or diagonally */
static void fill_room(const slew_map *map, int *room)
{
    static const int before[4][2] = {{-1, 0}, {0, -1}, {-1, -1}, {1, -1}};
    int count = map->width * map->height;
    for (int pass = 0; pass < 2; pass++)
        for (int i = 0; i < count; i++) {
            int k = pass == 0 ? i : count - 1 - i, x = k % map->width, y = k / map->width;
            int least = pass == 0 ? count : room[k] - 1;
            for (int n = 0; n < 4; n++) {
                int sign = pass == 0 ? 1 : -1, nx = x + sign * before[n][0],
                    ny = y + sign * before[n][1];
                bool same = cli_map_code_at(map, nx, ny) == cli_map_code(map->cell[k]);
                int other = same ? room[cell_at(map, nx, ny)] : 0;
                least = other < least ? other : least;
            }
            room[k] = least + 1;
        }
}

/* takes a connected region out of `room`, and tells its roomiest cell */
static int take_region(const slew_map *map, int *room, int *stack, int start)
{
    int count = 0, best = start, best_room = 0;
    stack[count++] = start;
    room[start] = -room[start];
    while (count > 0) {
        int k = stack[--count], x = k % map->width, y = k / map->width;
        if (-room[k] > best_room) {
            best_room = -room[k];
            best = k;
        }
        const int next[4][2] = {{x - 1, y}, {x + 1, y}, {x, y - 1}, {x, y + 1}};
        for (int n = 0; n < 4; n++) {
            if (cli_map_code_at(map, next[n][0], next[n][1]) != cli_map_code(map->cell[k]))
                continue;
            int other = (int)cell_at(map, next[n][0], next[n][1]);
            if (room[other] > 0) {
                room[other] = -room[other];
                stack[count++] = other;
            }
        }
    }
    return best;
}

/* the cells into `found`, with room for as many as the map has; returns how many */
static int find_letters(const slew_map *map, int *room, int *stack, int *found)
{
    int count = 0;
    fill_room(map, room);
    for (int i = 0; i < map->width * map->height; i++) {
        int best = room[i] > 0 ? take_region(map, room, stack, i) : -1;
        if (best >= 0 && -room[best] >= LETTER_ROOM)
            found[count++] = best;
    }
    return count;
}

int *cli_map_letters(const slew_map *map, int *count)
{
    size_t cells = (size_t)map->width * (size_t)map->height;
    int *found = malloc(3 * cells * sizeof *found);
    *count = found != NULL ? find_letters(map, found + cells, found + 2 * cells, found) : 0;
    return found;
}
