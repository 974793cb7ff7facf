/* From reset to main on the emulated boards. With TELLTALE_SEMIHOSTING main's
 * result becomes the exit status of the emulator. */
#include <stdint.h>

extern uint32_t stack_top, data_image, data_begin, data_end, bss_begin, bss_end;
extern int main(void);
extern void __libc_init_array(void);
#ifdef TELLTALE_SEMIHOSTING
extern void exit(int);
extern void initialise_monitor_handles(void);
#endif

void reset(void);
void reset(void) {
#ifdef __ARM_FP
  *(volatile uint32_t*)0xE000ED88 |= 0xFU << 20; /* the FPU on */
  __asm volatile("dsb\n isb");
#endif
  const uint32_t* from = &data_image;
  for (uint32_t* to = &data_begin; to < &data_end;) *to++ = *from++;
  for (uint32_t* to = &bss_begin; to < &bss_end;) *to++ = 0;
#ifdef TELLTALE_SEMIHOSTING
  initialise_monitor_handles();
  __libc_init_array();
  exit(main());
#else
  __libc_init_array();
  main();
  for (;;) {
  }
#endif
}

static void stand_still(void) {
  for (;;) {
  }
}

typedef union {
  const void* stack;
  void (*handler)(void);
} vector;

__attribute__((section(".vectors"), used)) static const vector vectors[16] = {
    {.stack = &stack_top},           {.handler = reset},
    {.handler = stand_still},        {.handler = stand_still},
    {.handler = stand_still},        {.handler = stand_still},
    {.handler = stand_still},        [11] = {.handler = stand_still},
    [12] = {.handler = stand_still}, [14] = {.handler = stand_still},
    [15] = {.handler = stand_still}};

void _init(void);
void _init(void) {}
void _fini(void);
void _fini(void) {}
