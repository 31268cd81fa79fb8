/* exit_code.h - what the program ends with. */
#ifndef SLEW_CLI_LINE_EXIT_CODE_H
#define SLEW_CLI_LINE_EXIT_CODE_H

enum {
    CLI_OK = 0,      /* completed */
    CLI_NOT_OK = 1,  /* --require ok, and the machine faulted or missed */
    CLI_WRONG = 2,   /* the input or the command line is wrong */
    CLI_OUTSIDE = 3, /* something outside failed: file, gnuplot, memory */
};

#endif
