// Ties simulator, writer and recorder together.
#include "simulate/write.hpp"

#include <memory>
#include <optional>

#include "simulate/simulate.hpp"
#include "simulate/truth/recorder.hpp"

namespace telltale::host::sim {
namespace {

/// A set on its way through the log, with its next row at hand.
class Course {
 public:
  Course(const Scenario& scenario, bool judged) : simulator_(scenario) {
    if (judged) {
      recorder_.emplace(simulator_.scenario());
      simulator_.watch(&*recorder_);
    }
    advance();
  }

  [[nodiscard]] bool over() const { return over_; }
  [[nodiscard]] const Sample& sample() const { return sample_; }
  [[nodiscard]] const Scenario& scenario() const {
    return simulator_.scenario();
  }
  void advance() {
    over_ = !simulator_.next(sample_);
    if (!over_ && recorder_) recorder_->row(sample_, simulator_.state());
  }
  SetTruth finish() {
    return {simulator_.scenario(), recorder_->finish(simulator_.sensors())};
  }

 private:
  Simulator simulator_;
  std::optional<Recorder> recorder_;
  Sample sample_;
  bool over_ = false;
};

Course* earliest(const std::vector<std::unique_ptr<Course>>& courses) {
  Course* first = nullptr;
  for (const auto& course : courses) {
    if (course->over()) continue;
    if (first == nullptr || course->sample().t < first->sample().t) {
      first = course.get();
    }
  }
  return first;
}

}  // namespace

Result<LogFacts> write_log(std::span<const Scenario> sets, const ByteSink& sink,
                           std::vector<SetTruth>* truth) {
  std::vector<std::unique_ptr<Course>> courses;
  for (const Scenario& set : sets) {
    courses.push_back(std::make_unique<Course>(set, truth != nullptr));
  }
  LogFacts facts;
  std::optional<LogWriter> writer;
  while (Course* course = earliest(courses)) {
    const Sample& sample = course->sample();
    if (!writer) {
      facts.first = sample.stamp;
      writer.emplace(courses.front()->scenario(), sample.stamp, sink);
    }
    facts.last = sample.stamp;
    ++facts.rows;
    writer->row(sample, course->scenario().format.unit_column);
    course->advance();
  }
  if (!writer) writer.emplace(sets.front(), sets.front().clock, sink);
  if (!writer->finish()) {
    return Error{"the log could not be written", "", "is the disk full?"};
  }
  if (truth != nullptr) {
    for (const auto& course : courses) truth->push_back(course->finish());
  }
  return facts;
}

Result<LogFacts> write_log(const Scenario& set, const ByteSink& sink,
                           std::vector<SetTruth>* truth) {
  return write_log(std::span(&set, 1), sink, truth);
}

SetTruth truth_of(const Scenario& scenario) {
  Course course(scenario, true);
  while (!course.over()) course.advance();
  return course.finish();
}

}  // namespace telltale::host::sim
