#include "session/run_chronicle.hpp"

#include <utility>

#include "support/prefetch.hpp"

namespace telltale::host {

RunChronicle::RunChronicle(const Profile& profile, Threads threads)
    : may_thread_(threads == Threads::more), load_test_(profile) {
  own_->make_room(kAlone);
}

RunChronicle::~RunChronicle() {
  if (!thread_.joinable()) return;
  in_hand_->used = 0;
  in_hand_->over = true;
  ring_->give();
  thread_.join();
}

RunChronicle::Entry RunChronicle::next() {
  if (in_hand_->used == in_hand_->scans.size()) hand_over();
  const std::size_t k = in_hand_->used++;
  expect<Use::writing>(in_hand_->scans.data(), k + kAhead);
  return {in_hand_->scans[k], in_hand_->notes[k]};
}

void RunChronicle::end_run(const RunFacts& facts, const LogPlace& end) {
  in_hand_->ends_run = true;
  in_hand_->facts = facts;
  in_hand_->end = end;
  hand_over();
}

RunRecord RunChronicle::take() {
  ready_.acquire();
  const std::lock_guard lock(records_lock_);
  RunRecord record = std::move(records_.front());
  records_.pop_front();
  return record;
}

// A first full block says that there is enough for a thread.
void RunChronicle::hand_over() {
  if (thread_.joinable()) {
    ring_->give();
    begin_block();
    return;
  }
  const bool full = in_hand_->used == kAlone;
  work_off(*in_hand_);
  if (!may_thread_ || !full) return;
  ring_ = std::make_unique<BlockRing<Block>>();
  begin_block();
  thread_ = thread_if_any([this] { work(); });
  if (thread_.joinable()) return;
  may_thread_ = false;
  in_hand_ = own_.get();
}

void RunChronicle::begin_block() {
  in_hand_ = &ring_->to_fill();
  if (in_hand_->scans.empty()) in_hand_->make_room(kShared);
}

void RunChronicle::work() {
  for (bool over = false; !over;) {
    Block& block = ring_->to_take();
    over = block.over;
    work_off(block);
    ring_->free();
  }
}

/// The block is empty then.
void RunChronicle::work_off(Block& block) {
  for (std::size_t k = 0; k < block.used; ++k) {
    expect<Use::reading>(block.scans.data(), k + kAhead);
    recorder_.step(block.scans[k], block.notes[k]);
    load_test_.step(block.scans[k], block.notes[k]);
  }
  block.used = 0;
  if (!std::exchange(block.ends_run, false)) return;
  RunRecord record;
  recorder_.finish(block.facts, block.end, record);
  load_test_.finish(record);
  {
    const std::lock_guard lock(records_lock_);
    records_.push_back(std::move(record));
  }
  ready_.release();
}

}  // namespace telltale::host
