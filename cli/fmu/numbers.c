/* numbers.c - see numbers.h. */
#include "numbers.h"

#include <inttypes.h>
#include <string.h>

#include "slewtime/slewtime.h"

static const char HEAD[] = "slewtime-fmu";
static const char *const kind_word[] = {"machine", "plant"};

/* ---- writing ---- */

static uint64_t bits_of(double value)
{
    uint64_t bits;
    memcpy(&bits, &value, sizeof bits);
    return bits;
}

static void write_value(FILE *file, const char *layer, int key, double value)
{
    char shown[96];
    if (isnan(value))
        return;
    slew_key_format_number(key, value, shown, sizeof shown);
    fprintf(file, "%s %s %016" PRIx64 " %s\n", layer, slew_key_at(key)->path, bits_of(value),
            shown);
}

/* a yes or no of a deploy says that there is one */
static bool is_carried(const slew_scenario *scenario, int key)
{
    return scenario->deploy.given || strncmp(slew_key_at(key)->path, "deploy.", 7) != 0;
}

void fmu_numbers_write(const slew_scenario *s, fmu_kind kind, FILE *file)
{
    fprintf(file, "%s %s %s\n", HEAD, SLEW_VERSION, kind_word[kind]);
    for (int key = 0; key < slew_key_count(); key++)
        if (is_carried(s, key))
            write_value(file, "file", key, slew_scenario_get_number(s, key));
    for (int i = 0; i < s->teach.count; i++)
        write_value(file, "teach", s->teach.item[i].key, s->teach.item[i].value);
    for (int i = 0; i < s->keepout.count; i++) {
        const slew_range *r = s->keepout.box[i].axis;
        fprintf(file, "keepout %016" PRIx64 " %016" PRIx64 " %016" PRIx64 " %016" PRIx64 "\n",
                bits_of(r[0].low), bits_of(r[0].high), bits_of(r[1].low), bits_of(r[1].high));
    }
}

/* ---- reading ---- */

static double number_of(uint64_t bits)
{
    double value;
    memcpy(&value, &bits, sizeof value);
    return value;
}

static bool read_key(const char *path, slew_layer_id layer, uint64_t bits, slew_scenario *s)
{
    return slew_scenario_set_number(s, layer, slew_key_find(path), number_of(bits)) == SLEW_OK;
}

static bool read_line(const char *line, slew_scenario *s)
{
    char path[128];
    uint64_t bits[4];
    if (sscanf(line, "file %127s %" SCNx64, path, &bits[0]) == 2)
        return read_key(path, SLEW_LAYER_FILE, bits[0], s);
    if (sscanf(line, "teach %127s %" SCNx64, path, &bits[0]) == 2)
        return read_key(path, SLEW_LAYER_TEACH, bits[0], s);
    if (sscanf(line, "keepout %" SCNx64 " %" SCNx64 " %" SCNx64 " %" SCNx64, &bits[0], &bits[1],
               &bits[2], &bits[3]) == 4 &&
        s->keepout.count < SLEW_KEEPOUT_MAX) {
        slew_keepout_box *box = &s->keepout.box[s->keepout.count++];
        *box = (slew_keepout_box){.name = "zone",
                                  .axis = {{number_of(bits[0]), number_of(bits[1])},
                                           {number_of(bits[2]), number_of(bits[3])}}};
        return true;
    }
    return false;
}

static bool read_head(const char *line, fmu_kind *kind)
{
    char version[32], word[32];
    if (sscanf(line, "slewtime-fmu %31s %31s", version, word) != 2)
        return false;
    *kind = strcmp(word, kind_word[FMU_PLANT]) == 0 ? FMU_PLANT : FMU_MACHINE;
    return strcmp(version, SLEW_VERSION) == 0 && strcmp(word, kind_word[*kind]) == 0;
}

/* without choices a deploy is not whole */
static void choose_seconds(slew_deploy *deploy)
{
    for (int axis = 0; axis < SLEW_AXES && deploy->given; axis++) {
        deploy->choice_count[axis] = 1;
        deploy->choices[axis][0] = deploy->seconds[axis];
    }
}

bool fmu_numbers_read(FILE *file, slew_scenario *s, fmu_kind *kind)
{
    char line[320];
    slew_scenario_init(s);
    if (fgets(line, sizeof line, file) == NULL || !read_head(line, kind))
        return false;
    while (fgets(line, sizeof line, file) != NULL)
        if (!read_line(line, s))
            return false;
    choose_seconds(&s->deploy);
    return true;
}

void fmu_token(const slew_scenario *scenario, fmu_kind kind, char token[FMU_TOKEN_MAX])
{
    snprintf(token, FMU_TOKEN_MAX, "slewtime-%s-%s-%016" PRIx64, SLEW_VERSION, kind_word[kind],
             slew_scenario_hash(scenario));
}
