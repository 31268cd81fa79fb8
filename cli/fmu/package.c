/*
 * package.c - the zip archive of an FMU: FMI 3.0, 2.5.1. The same parts give the same bytes: its
 * files have no times of their own.
 */
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <zip.h>

#include "answer.h"
#include "line/exit_code.h"
#include "line/input.h"
#include "line/output.h"
#include "line/outputs.h"
#include "line/report.h"
#include "platform.h"

/* where the module is, unless the environment says otherwise */
#ifndef SLEW_FMU
#define SLEW_FMU "build/fmu.so"
#endif

/* ---- parts ---- */

typedef struct part {
    char name[128];
    char *bytes; /* owned */
    size_t length;
    bool is_program;
} part;

enum { DESCRIPTION, MODULE, SCENARIO, DOCUMENT, LICENSE, PARTS };

static FILE *begin(part *p, const char *name)
{
    snprintf(p->name, sizeof p->name, "%s", name);
    return open_memstream(&p->bytes, &p->length);
}

/* false: memory is short */
static bool end(FILE *stream)
{
    bool good = stream != NULL && ferror(stream) == 0;
    return stream != NULL && fclose(stream) == 0 && good;
}

static bool write_texts(const cli_fmu *fmu, part *parts)
{
    FILE *xml = begin(&parts[DESCRIPTION], "modelDescription.xml");
    if (xml != NULL)
        cli_fmu_describe(fmu, xml);
    FILE *numbers = begin(&parts[SCENARIO], "resources/" FMU_NUMBERS_FILE);
    if (numbers != NULL)
        fmu_numbers_write(&fmu->scenario, fmu->kind, numbers);
    FILE *html = begin(&parts[DOCUMENT], "documentation/index.html");
    if (html != NULL)
        cli_fmu_document(fmu, html);
    FILE *license = begin(&parts[LICENSE], "documentation/licenses/license.txt");
    if (license != NULL)
        fputs(cli_fmu_license, license);
    bool described = end(xml), numbered = end(numbers), documented = end(html);
    return end(license) && described && numbered && documented;
}

static bool copy_all(FILE *from, FILE *to)
{
    char block[8192];
    for (size_t n; (n = fread(block, 1, sizeof block, from)) > 0;)
        fwrite(block, 1, n, to);
    return ferror(from) == 0;
}

/* memory was short for it without a word from its stream */
static bool is_cut(const part *p, long size)
{
    return p->bytes == NULL || (long)p->length != size;
}

static int read_module(const cli_fmu *fmu, const char *out, part *p)
{
    const char *asked = getenv("SLEWTIME_FMU");
    const char *path = asked != NULL && asked[0] != '\0' ? asked : SLEW_FMU;
    int code = cli_outputs_spare(out, path, "fmu");
    if (code != CLI_OK)
        return code;
    FILE *file = fopen(path, "rb");
    if (file == NULL)
        return cli_fail_errno("build it in slewtime's sources: make all (make install takes it "
                              "along);\n  or set SLEWTIME_FMU to the file",
                              errno, "cannot read the module of FMUs, %s", path);
    FILE *copy = begin(p, "");
    bool read = copy != NULL && copy_all(file, copy);
    const long size = ftell(file);
    fclose(file);
    p->is_program = true;
    if (!end(copy) || (read && is_cut(p, size)))
        return cli_no_memory();
    if (!read)
        return cli_fail(NULL, "cannot read the module of FMUs, %s", path);
    const char *platform = cli_fmu_platform(p->bytes, p->length);
    if (platform == NULL)
        return cli_fail("set SLEWTIME_FMU to the fmu.so of a build for such a platform",
                        "%s is no module of FMUs for a platform that FMI 3.0 has a name for", path);
    snprintf(p->name, sizeof p->name, "binaries/%s/%s.so", platform, cli_fmu_identifier(fmu->kind));
    return CLI_OK;
}

/* ---- the archive ---- */

/* the first day that an archive knows, and the rights that a file has */
static bool add_part(zip_t *archive, const part *p)
{
    enum { FIRST_DAY = (1 << 5) | 1 };
    zip_source_t *source = zip_source_buffer(archive, p->bytes, p->length, 0);
    zip_int64_t index = source != NULL ? zip_file_add(archive, p->name, source, 0) : -1;
    if (index < 0) {
        if (source != NULL)
            zip_source_free(source);
        return false;
    }
    const zip_uint32_t mode = p->is_program ? 0100755u : 0100644u;
    return zip_file_set_dostime(archive, (zip_uint64_t)index, 0, FIRST_DAY, 0) == 0 &&
           zip_file_set_external_attributes(archive, (zip_uint64_t)index, 0, ZIP_OPSYS_UNIX,
                                            mode << 16) == 0;
}

/* all parts into a source that takes them; false: it failed */
static bool fill(zip_source_t *whole, const part *parts)
{
    zip_error_t error;
    zip_error_init(&error);
    zip_t *archive = zip_open_from_source(whole, ZIP_TRUNCATE, &error);
    zip_error_fini(&error);
    if (archive == NULL)
        return false;
    zip_source_keep(whole);
    bool good = true;
    for (int i = 0; i < PARTS && good; i++)
        good = add_part(archive, &parts[i]);
    if (good && zip_close(archive) == 0)
        return true;
    zip_discard(archive);
    return false;
}

static bool copy_archive(zip_source_t *whole, FILE *to)
{
    char block[8192];
    zip_int64_t n;
    if (zip_source_open(whole) != 0)
        return false;
    while ((n = zip_source_read(whole, block, sizeof block)) > 0)
        fwrite(block, 1, (size_t)n, to);
    zip_source_close(whole);
    return n == 0;
}

static int write_archive(zip_source_t *whole, const char *path)
{
    cli_file file;
    int code = cli_file_open(&file, path);
    if (code != CLI_OK)
        return code;
    code = copy_archive(whole, file.stream) ? CLI_OK : cli_no_memory();
    return cli_file_close(&file, code);
}

static int pack_parts(const part *parts, const char *path)
{
    zip_error_t error;
    zip_error_init(&error);
    zip_source_t *whole = zip_source_buffer_create(NULL, 0, 0, &error);
    zip_error_fini(&error);
    if (whole == NULL)
        return cli_no_memory();
    int code = fill(whole, parts) ? write_archive(whole, path) : cli_no_memory();
    zip_source_free(whole);
    return code;
}

int cli_fmu_write(const cli_fmu *fmu, const char *path)
{
    part parts[PARTS] = {0};
    int code = read_module(fmu, path, &parts[MODULE]);
    if (code == CLI_OK)
        code = write_texts(fmu, parts) ? pack_parts(parts, path) : cli_no_memory();
    for (int i = 0; i < PARTS; i++)
        free(parts[i].bytes);
    return code;
}
