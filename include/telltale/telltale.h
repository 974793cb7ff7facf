/* The C interface: one set, watched in memory that the caller gives.
 *
 * In one C++ file of the firmware, and only there:
 *     #include "telltale/c_interface.hpp"
 * In C:
 *     static telltale_box box;
 *     static const telltale_plate plate = {.frequency_hz = 60, .poles = 2,
 * ...}; telltale_init(&box, &plate, NULL); telltale_put(&box,
 * TELLTALE_battery_voltage, now_ms, 13.9f); telltale_scan(&box, now_ms);
 *     telltale_finding finding;
 *     while (telltale_poll(&box, &finding)) ...
 *
 * No function allocates, blocks or calls back but telltale_scan and
 * telltale_finish, which call the function of telltale_on_finding. A box is
 * not locked: one task at a time. */
#ifndef TELLTALE_TELLTALE_H
#define TELLTALE_TELLTALE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Memory of one box. The C++ file refuses to compile where it is too small; a
 * shorter list of checks (see c_interface.hpp) may do with less. */
#ifndef TELLTALE_BOX_BYTES
#define TELLTALE_BOX_BYTES 13824
#endif
/* Enough for a saved state. */
#define TELLTALE_STATE_BYTES TELLTALE_BOX_BYTES

typedef union telltale_box {
  int64_t align_;
  unsigned char bytes_[TELLTALE_BOX_BYTES];
} telltale_box;

/* Channels by their names in `telltale columns`, in these units: rpm, Hz, V,
 * A, kW, %, kPa, degC, h, L/h, bar none. See acquire/channels.def. */
typedef enum telltale_channel {
#define TELLTALE_CHANNEL(id, slug, title, unit, low, high, jump, words) \
  TELLTALE_##slug = id,
#include "telltale/acquire/channels.def"
#undef TELLTALE_CHANNEL
  TELLTALE_NO_CHANNEL = 0xFF
} telltale_channel;

/* What the controller says of itself. */
typedef enum telltale_engine_state {
  TELLTALE_STATE_UNKNOWN,
  TELLTALE_STATE_STOPPED,
  TELLTALE_STATE_PREHEAT,
  TELLTALE_STATE_CRANKING,
  TELLTALE_STATE_STARTING,
  TELLTALE_STATE_RUNNING,
  TELLTALE_STATE_LOADED,
  TELLTALE_STATE_COOL_DOWN,
  TELLTALE_STATE_STOPPING,
  TELLTALE_STATE_FAULT
} telltale_engine_state;

typedef enum telltale_severity {
  TELLTALE_NOTE = 2,
  TELLTALE_ATTENTION = 3,
  TELLTALE_URGENT = 4
} telltale_severity;

typedef enum telltale_event {
  TELLTALE_OPENED,
  TELLTALE_WORSENED,
  TELLTALE_CLOSED
} telltale_event;

/* The rating plate. 0: not known, and what needs it is not judged. */
typedef struct telltale_plate {
  float frequency_hz; /* 50 or 60 */
  uint8_t poles;      /* even */
  uint8_t legs;       /* 1 single, 2 split-phase, 3 three-phase */
  float power_kw;
  float voltage_v;    /* leg to leg; leg to neutral if single */
  float power_factor; /* 0: taken for 1 */
  float battery_v;    /* 12 or 24 */
  bool asynchronous;
  bool sea_water_cooled;
  uint8_t exhaust;    /* 0 not known, 1 wet, 2 dry */
  char winding_class; /* 'A' 'E' 'B' 'F' 'H'; 0: F */
  uint8_t class_g;    /* ISO 8528-5 class 1, 2, 3; 0: 1 */
  float interval_s;   /* usual time between scans; 0: to be learnt */
  bool wall_clock;    /* times count from 1970 */
} telltale_plate;

/* A changed limit, in the unit of the check (telltale checks NAME). */
typedef struct telltale_limit {
  uint16_t check;
  float attention; /* NAN: as it is */
  float urgent;    /* NAN: as it is */
  float delay_s;   /* NAN: as it is */
} telltale_limit;

typedef struct telltale_finding {
  uint16_t check;   /* id: telltale checks */
  uint16_t run;     /* number of the run; 0: outside every run */
  uint8_t channel;  /* telltale_channel */
  uint8_t severity; /* telltale_severity */
  uint8_t event;    /* telltale_event */
  uint8_t unit;     /* Unit of acquire/unit.hpp */
  float value;      /* NAN: none */
  float limit;      /* NAN: none */
  int64_t since_ms;
  int64_t until_ms;
} telltale_finding;

typedef enum telltale_error {
  TELLTALE_OK,
  TELLTALE_LIMIT_NOT_FINITE,
  TELLTALE_LIMITS_IN_WRONG_ORDER,
  TELLTALE_LIMIT_OUT_OF_RANGE,
  TELLTALE_TOO_MANY_LIMITS,
  TELLTALE_BAD_PLATE,
  TELLTALE_STATE_WRONG_SIZE,
  TELLTALE_STATE_NONE,
  TELLTALE_STATE_OF_OTHER_BUILD,
  TELLTALE_STATE_DAMAGED
} telltale_error;

typedef void (*telltale_function)(void* context,
                                  const telltale_finding* finding);

const char* telltale_version(void);

/* Sets up a box, by changed limits too. On an error the box must not be used;
 * `check`, where not NULL, then names the check whose limits are at fault. */
telltale_error telltale_init(telltale_box* box, const telltale_plate* plate,
                             const telltale_limit* limits, size_t limit_count,
                             uint16_t* check);

/* Findings go to `function` from now on instead of waiting to be polled; NULL:
 * they wait again, eight of them. Not part of a saved state. */
void telltale_on_finding(telltale_box* box, telltale_function function,
                         void* context);

/* Readings as they come, each channel in its own time; NAN: there should be
 * one and is none. Times never step back. */
void telltale_put(telltale_box* box, telltale_channel channel, int64_t at_ms,
                  float value);
void telltale_put_state(telltale_box* box, telltale_engine_state state);
/* The controller's alarms that stand, one bit each. */
void telltale_put_alarms(telltale_box* box, uint32_t alarms);

/* Judges what has come in. Call it at an even pace, once a second say; a scan
 * is judged when the next one comes. Its time has a fixed bound. */
void telltale_scan(telltale_box* box, int64_t now_ms);
/* No more scans: judges the last one and ends an open run. */
void telltale_finish(telltale_box* box);

/* The oldest finding that waits; false: none does. */
bool telltale_poll(telltale_box* box, telltale_finding* out);
/* Findings lost because more than eight waited. */
uint32_t telltale_lost(const telltale_box* box);

/* How often something could not be told because too much stood at the same time
 * (docs/box.md); 0: everything was. Part of a saved state. */
uint32_t telltale_untold(const telltale_box* box);

/* The state to keep across a power cut; its size, 0 if `size` is too small. */
size_t telltale_save(const telltale_box* box, uint8_t* out, size_t size);
/* Goes on where a saved state stopped. The box must have been set up by the
 * same plate and limits; on an error it is as it was. */
telltale_error telltale_load(telltale_box* box, const uint8_t* in, size_t size);

/* A finding as a record of 32 bytes (advise/event_record.hpp), to be read by
 * `telltale events FILE`. `sequence` counts up by one. */
void telltale_encode(const telltale_finding* finding, uint16_t sequence,
                     bool wall_clock, uint8_t out[32]);

#ifdef __cplusplus
}
#endif

#endif
