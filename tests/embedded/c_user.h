/* What the C side of the test of the C interface tells its C++ side. */
#ifndef TELLTALE_TESTS_C_USER_H
#define TELLTALE_TESTS_C_USER_H

#include "telltale/telltale.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct c_story {
  int use_callback;
  int called; /* findings opened, by callback */
  int polled; /* findings opened, by polling */
  uint32_t untold;
  telltale_finding first;
  uint8_t record[32];
} c_story;

/* 25 minutes with weak charging from minute 10 to 15. `cut_at_s`: the power
 * goes then; -1: never. 0: all went well. */
int c_user_run(c_story* story, int cut_at_s);
/* Two minutes of the same with limits that everything is beyond: how much was
 * not told, before the run ended and after. False: a call failed. */
bool c_user_all_at_once(uint32_t* in_run, uint32_t* after);
telltale_error c_user_wrong_limits(uint16_t* check);
telltale_error c_user_wrong_plate(void);

#ifdef __cplusplus
}
#endif

#endif
