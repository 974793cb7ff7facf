/* A C firmware in small: what it hears of a run that another file feeds. */
#include "c_user.h"

#include <math.h>
#include <string.h>

static telltale_box box;
static uint8_t saved[TELLTALE_STATE_BYTES];

static const telltale_plate plate = {.frequency_hz = 60.0F,
                                     .poles = 2,
                                     .legs = 2,
                                     .power_kw = 8.0F,
                                     .voltage_v = 240.0F,
                                     .battery_v = 12.0F};

static void count(void* context, const telltale_finding* finding) {
  c_story* story = (c_story*)context;
  if (finding->event == TELLTALE_OPENED) ++story->called;
}

static void one_scan(int64_t at) {
  const double t = (double)at / 1000.0;
  const int runs = t >= 60.0;
  telltale_put(&box, TELLTALE_engine_speed, at, runs ? 3600.0F : 0.0F);
  telltale_put(&box, TELLTALE_frequency, at, runs ? 60.0F : 0.0F);
  telltale_put(&box, TELLTALE_battery_voltage, at,
               t >= 600.0 && t < 900.0 ? 12.7F : 14.1F);
  telltale_put_state(&box,
                     runs ? TELLTALE_STATE_RUNNING : TELLTALE_STATE_STOPPED);
  telltale_scan(&box, at);
}

int c_user_run(c_story* story, int cut_at_s) {
  telltale_finding finding;
  int64_t at;
  if (telltale_init(&box, &plate, NULL, 0, NULL) != TELLTALE_OK) return 1;
  if (story->use_callback) telltale_on_finding(&box, count, story);
  for (at = 0; at < 1500 * 1000; at += 1000) {
    one_scan(at);
    while (telltale_poll(&box, &finding)) {
      if (finding.event == TELLTALE_OPENED) {
        ++story->polled;
        story->first = finding;
      }
    }
    if (at / 1000 == cut_at_s) {
      const size_t size = telltale_save(&box, saved, sizeof saved);
      if (size == 0) return 2;
      memset(&box, 0xA5, sizeof box);
      if (telltale_init(&box, &plate, NULL, 0, NULL) != TELLTALE_OK) return 3;
      if (telltale_load(&box, saved, size) != TELLTALE_OK) return 4;
    }
  }
  telltale_finish(&box);
  story->untold = telltale_untold(&box);
  telltale_encode(&story->first, 9, false, story->record);
  return 0;
}

bool c_user_all_at_once(uint32_t* in_run, uint32_t* after) {
  /* frequency-high, -low, voltage-high, -low, coolant-, exhaust-, winding-,
   * charging-high: fourteen values. */
  static const telltale_limit limits[] = {
      {1, -5.0F, NAN, NAN}, {2, 5.0F, NAN, NAN},  {8, -5.0F, NAN, NAN},
      {9, 5.0F, NAN, NAN},  {24, 10.0F, NAN, NAN}, {27, 10.0F, NAN, NAN},
      {30, 10.0F, NAN, NAN}, {32, 10.0F, NAN, NAN}};
  int64_t at;
  if (telltale_init(&box, &plate, limits, sizeof limits / sizeof *limits,
                    NULL) != TELLTALE_OK) {
    return false;
  }
  for (at = 0; at < 180 * 1000; at += 1000) {
    telltale_put(&box, TELLTALE_voltage_l1, at, 120.0F);
    telltale_put(&box, TELLTALE_voltage_l2, at, 120.0F);
    telltale_put(&box, TELLTALE_voltage_l3, at, 120.0F);
    telltale_put(&box, TELLTALE_voltage_line, at, 240.0F);
    telltale_put(&box, TELLTALE_coolant_temperature, at, 80.0F);
    telltale_put(&box, TELLTALE_exhaust_temperature, at, 40.0F);
    telltale_put(&box, TELLTALE_winding_temperature, at, 60.0F);
    one_scan(at);
  }
  *in_run = telltale_untold(&box);
  telltale_finish(&box);
  *after = telltale_untold(&box);
  return true;
}

telltale_error c_user_wrong_limits(uint16_t* check) {
  const telltale_limit limit = {
      .check = 24, .attention = 110.0F, .urgent = 100.0F, .delay_s = NAN};
  return telltale_init(&box, &plate, &limit, 1, check);
}

telltale_error c_user_wrong_plate(void) {
  telltale_plate wrong = plate;
  wrong.poles = 3;
  return telltale_init(&box, &wrong, NULL, 0, NULL);
}
