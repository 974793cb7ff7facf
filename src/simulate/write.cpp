// Ties simulator, writer and recorder together.
#include "simulate/write.hpp"

#include <optional>

#include "simulate/simulate.hpp"
#include "simulate/truth/recorder.hpp"

namespace telltale::host::sim {

Result<LogFacts> write_log(const Scenario& scenario, const ByteSink& sink,
                           Truth* truth, Scenario* ran) {
  Simulator simulator(scenario);
  std::optional<Recorder> recorder;
  if (truth != nullptr) {
    recorder.emplace(simulator.scenario());
    simulator.watch(&*recorder);
  }
  std::optional<LogWriter> writer;
  LogFacts facts;
  Sample sample;
  while (simulator.next(sample)) {
    if (!writer) {
      facts.first = sample.stamp;
      writer.emplace(simulator.scenario(), sample.stamp, sink);
    }
    facts.last = sample.stamp;
    ++facts.rows;
    writer->row(sample);
    if (recorder) recorder->row(sample, simulator.state());
  }
  if (!writer) writer.emplace(simulator.scenario(), scenario.clock, sink);
  if (!writer->finish()) {
    return Error{"the log could not be written", "", "is the disk full?"};
  }
  if (truth != nullptr) *truth = recorder->finish(simulator.sensors());
  if (ran != nullptr) *ran = simulator.scenario();
  return facts;
}

Truth truth_of(const Scenario& scenario, Scenario* ran) {
  Truth truth;
  const auto nowhere = [](std::string_view) { return true; };
  // A sink that takes everything cannot fail.
  static_cast<void>(write_log(scenario, nowhere, &truth, ran));
  return truth;
}

}  // namespace telltale::host::sim
