/* sobol.c - see sobol.h. */
#include "study/sampling/sobol.h"

#include <stdlib.h>

bool slew_sobol_open(gsl_qrng *generator, int dimensions)
{
    unsigned d = (unsigned)dimensions;
    size_t size = gsl_qrng_sobol->state_size(d);
    *generator = (gsl_qrng){gsl_qrng_sobol, d, size, malloc(size)};
    return generator->state != NULL && gsl_qrng_sobol->init_state(generator->state, d) == 0;
}

void slew_sobol_close(gsl_qrng *generator)
{
    free(generator->state);
}
