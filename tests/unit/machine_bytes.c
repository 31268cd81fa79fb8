/* machine_bytes.c - a machine saved as bytes and restored: bit by bit, or refused. */
#include "machine_steps.h"

static unsigned char block[SLEW_MACHINE_BYTES];

/* ---- Restored, it goes on ---- */

/* `out` goes on to the end from a restored machine; one from the heap, so that nothing is left of
 * the first one */
static void go_on_restored(story *out)
{
    slew_machine *m = malloc(sizeof *m);
    assert_non_null(m);
    memset(m, 0xa5, sizeof *m);
    assert_int_equal(slew_machine_restore(block, sizeof block, m), SLEW_OK);
    keep_until(m, 1000.0, 1000.0, out);
    free(m);
}

static void save_at_every_event(const char *name, const bench *b)
{
    static story whole, again;
    slew_machine m = machine_of(b);
    (void)name;
    slew_machine_stow(&m);
    whole.count = 0;
    keep_until(&m, 1000.0, 1000.0, &whole);
    m = machine_of(b);
    slew_machine_stow(&m);
    again.count = 0;
    do {
        const int before = again.count;
        slew_machine_save(&m, block);
        go_on_restored(&again);
        same_events(&whole, &again);
        again.count = before;
    } while (keep_next(&m, 1000.0, 1000.0, &again));
}

static void saved_at_any_event_it_goes_on_as_if_nothing_had_been(void **state)
{
    (void)state;
    for_every_example(save_at_every_event);
}

/* ---- Refused ---- */

static void every_damaged_byte_is_refused(void **state)
{
    slew_machine m = daily_machine(), before, after;
    slew_event event;
    (void)state;
    slew_machine_stow(&m);
    while (slew_machine_advance(&m, 3.0, &event))
        continue;
    slew_machine_save(&m, block);
    memcpy(&before, &m, sizeof m);
    memcpy(&after, &m, sizeof m);
    for (size_t i = 0; i < sizeof block; i++) {
        const unsigned char was = block[i];
        block[i] = (unsigned char)(was ^ (1u << i % 8));
        const slew_status status = slew_machine_restore(block, sizeof block, &after);
        assert_true(status == SLEW_ERROR_DAMAGED || status == SLEW_ERROR_BUILD);
        assert_true(i < 48 || status == SLEW_ERROR_DAMAGED);
        block[i] = was;
    }
    assert_memory_equal(&before, &after, sizeof before);
    assert_int_equal(slew_machine_restore(block, sizeof block, &after), SLEW_OK);
}

static void other_lengths_and_other_builds_are_refused(void **state)
{
    static unsigned char longer[SLEW_MACHINE_BYTES + 1];
    slew_machine m = daily_machine();
    (void)state;
    slew_machine_save(&m, longer);
    for (size_t length = 0; length <= sizeof longer; length += length < 80 ? 1 : 97)
        if (length != SLEW_MACHINE_BYTES)
            assert_int_equal(slew_machine_restore(longer, length, &m), SLEW_ERROR_DAMAGED);
    assert_int_equal(slew_machine_restore(longer, sizeof longer, &m), SLEW_ERROR_DAMAGED);
    assert_memory_equal(longer, "slewtime " SLEW_VERSION, strlen("slewtime " SLEW_VERSION));
    memcpy(longer, "slewtime 9", 10);
    assert_int_equal(slew_machine_restore(longer, SLEW_MACHINE_BYTES, &m), SLEW_ERROR_BUILD);
    memset(longer, 0, sizeof longer);
    assert_int_equal(slew_machine_restore(longer, SLEW_MACHINE_BYTES, &m), SLEW_ERROR_BUILD);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(saved_at_any_event_it_goes_on_as_if_nothing_had_been),
        cmocka_unit_test(every_damaged_byte_is_refused),
        cmocka_unit_test(other_lengths_and_other_builds_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
