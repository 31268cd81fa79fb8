/*
 * machine_bytes.c - a machine as a block of bytes, for the same build; see machine.h.
 *
 * The block is the struct as it lies in memory behind a head that names the build. Its checksum is
 * FNV-1a of 64 bits (Fowler, Noll and Vo): every step turns the sum so far into another one for
 * another byte, and back, so that one damaged byte can't go unseen.
 */
#include "slewtime/slewtime.h"

#include <stddef.h>
#include <stdio.h>
#include <string.h>

/* a digest of the library's sources and the compiler, written by the Makefile */
static const char digest[] = SLEW_BUILD;

enum { BUILD_NAME = 48 };

typedef struct head {
    char build[BUILD_NAME];
    uint64_t length; /* of the block */
    uint64_t checksum;
} head;

_Static_assert(sizeof(head) + sizeof(slew_machine) == SLEW_MACHINE_BYTES, "as machine.h says");

static uint64_t add_bytes(uint64_t sum, const void *bytes, size_t length)
{
    const unsigned char *byte = bytes;
    for (size_t i = 0; i < length; i++)
        sum = (sum ^ byte[i]) * 0x100000001b3u;
    return sum;
}

static void name_build(char name[BUILD_NAME])
{
    snprintf(name, BUILD_NAME, "slewtime %s %s", SLEW_VERSION, digest);
}

static uint64_t checksum_of(const head *h, const unsigned char *machine)
{
    uint64_t sum = add_bytes(0xcbf29ce484222325u, h, offsetof(head, checksum));
    return add_bytes(sum, machine, sizeof(slew_machine));
}

void slew_machine_save(const slew_machine *machine, unsigned char block[SLEW_MACHINE_BYTES])
{
    if (machine == NULL || block == NULL)
        return;
    head h = {.length = SLEW_MACHINE_BYTES};
    name_build(h.build);
    memcpy(block + sizeof h, machine, sizeof *machine);
    h.checksum = checksum_of(&h, block + sizeof h);
    memcpy(block, &h, sizeof h);
}

slew_status slew_machine_restore(const unsigned char *block, size_t length, slew_machine *machine)
{
    if (block == NULL || machine == NULL)
        return SLEW_ERROR_INPUT;
    head own = {.length = SLEW_MACHINE_BYTES}, found;
    name_build(own.build);
    if (length < sizeof found)
        return SLEW_ERROR_DAMAGED;
    memcpy(&found, block, sizeof found);
    if (memcmp(found.build, own.build, sizeof own.build) != 0)
        return SLEW_ERROR_BUILD;
    if (length != SLEW_MACHINE_BYTES || found.length != SLEW_MACHINE_BYTES ||
        found.checksum != checksum_of(&found, block + sizeof found))
        return SLEW_ERROR_DAMAGED;
    memcpy(machine, block + sizeof found, sizeof *machine);
    return SLEW_OK;
}
