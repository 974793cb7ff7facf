// What a log tells about the set where the profile does not: nominal figures,
// poles, system voltage, battery, kind of exhaust.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "ingest/row.hpp"
#include "profile/profile_file.hpp"
#include "telltale/profile.hpp"

namespace telltale::host {

/// The channels that inference looks at.
extern const ChannelMask kInferenceChannels;

/// Gathers one unit's rows in bounded memory: a thinned sample of all rows, and
/// the highest mean of 60 s of power.
class Inference {
 public:
  void add(const Row& row);

  /// The profile to judge by: what the file states, completed by what the rows
  /// show. Sentences about everything that was inferred go to `told`.
  [[nodiscard]] Profile complete(const ProfileFile& file,
                                 std::vector<std::string>& told) const;

 private:
  struct Thin {  // one kept row
    double speed, hz, line, legs[3], power, current, battery, exhaust, load;
  };
  struct Power {
    TimeMs at;
    double kw;        // measured, else from leg volts and amps at unity
    double line_kva;  // line volts times the sum of amps: needs the legs' share
  };
  struct Means {  // highest mean over 60 s
    double kw = 0.0;
    double line_kva = 0.0;
  };

  void keep(const Row& row);
  void follow_power(const Row& row);
  [[nodiscard]] std::vector<Thin> running() const;
  [[nodiscard]] std::vector<Thin> on_load(const std::vector<Thin>& rows) const;

  void infer_speed(const std::vector<Thin>& rows, Rating& rating,
                   std::vector<std::string>& told) const;
  void infer_poles(const std::vector<Thin>& rows, Rating& rating,
                   std::vector<std::string>& told) const;
  void infer_volts(const std::vector<Thin>& rows, Rating& rating,
                   std::vector<std::string>& told) const;
  void infer_rest(const std::vector<Thin>& rows, Rating& rating,
                  std::vector<std::string>& told) const;

  std::vector<Thin> kept_;
  std::size_t stride_ = 1;
  std::size_t seen_ = 0;
  std::vector<Power> window_;
  std::size_t window_first_ = 0;
  double window_kw_ = 0.0;
  double window_kva_ = 0.0;
  TimeMs first_at_ = kNoTime;
  Means highest_;
  ChannelMask present_ = 0;
};

}  // namespace telltale::host
