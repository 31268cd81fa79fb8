/* regions.h - the regions of a map and where their letters stand. */
#ifndef SLEW_CLI_MAP_REGIONS_H
#define SLEW_CLI_MAP_REGIONS_H

#include "slewtime/map.h"

/* The outcome of a cell of the picture; -1 beyond its border. */
int cli_map_code_at(const slew_map *map, int x, int y);

/* Of each connected region of one outcome that has room for a letter the cell that is farthest from
 * any other outcome, as y * width + x. To be freed; NULL: memory is short. */
int *cli_map_letters(const slew_map *map, int *count);

#endif
