/*
 * platform.c - see platform.h. The tuples are those of FMI 3.0, 2.5.1.4.1 (from memory); what a
 * library is built for stands in its head (System V ABI, chapter 4: e_ident and e_machine).
 */
#include "platform.h"

#include <elf.h>
#include <string.h>

typedef struct platform {
    unsigned machine;
    unsigned char word; /* ELFCLASS32, ELFCLASS64 */
    const char *tuple;
} platform;

static const platform PLATFORMS[] = {
    {EM_X86_64, ELFCLASS64, "x86_64-linux"},   {EM_386, ELFCLASS32, "x86-linux"},
    {EM_AARCH64, ELFCLASS64, "aarch64-linux"}, {EM_ARM, ELFCLASS32, "aarch32-linux"},
    {EM_RISCV, ELFCLASS64, "riscv64-linux"},   {EM_RISCV, ELFCLASS32, "riscv32-linux"},
    {EM_PPC64, ELFCLASS64, "ppc64-linux"},     {EM_PPC, ELFCLASS32, "ppc32-linux"},
};

/* these stand at the same place in libraries of both word sizes */
enum { MACHINE_AT = offsetof(Elf32_Ehdr, e_machine) };

const char *cli_fmu_platform(const char *bytes, size_t length)
{
    if (length < sizeof(Elf32_Ehdr) || memcmp(bytes, ELFMAG, SELFMAG) != 0)
        return NULL;
    unsigned first = (unsigned char)bytes[MACHINE_AT],
             second = (unsigned char)bytes[MACHINE_AT + 1];
    unsigned machine = bytes[EI_DATA] == ELFDATA2MSB ? first << 8 | second : second << 8 | first;
    for (size_t i = 0; i < sizeof PLATFORMS / sizeof *PLATFORMS; i++)
        if (PLATFORMS[i].machine == machine && PLATFORMS[i].word == bytes[EI_CLASS])
            return PLATFORMS[i].tuple;
    return NULL;
}
