#include "season/add_logs.hpp"

#include <algorithm>
#include <atomic>
#include <fstream>
#include <optional>
#include <string>
#include <thread>
#include <variant>

#include "season/bounded_queue.hpp"
#include "season/content_id.hpp"
#include "season/digest_file.hpp"
#include "season/digest_log.hpp"

namespace telltale::host::season {
namespace {

/// What a reader hands to the writer: a digest or why there is none, and
/// whether it was the last of its file.
struct Work {
  std::variant<LogDigest, Error, std::monostate> what;
  bool file_done = true;
};

constexpr std::size_t kBatch = 32;  // digests in one transaction, at most

class Readers {
 public:
  Readers(const std::vector<std::string>& files, const AddOptions& options,
          std::vector<std::string> known, unsigned jobs,
          BoundedQueue<Work>& queue)
      : files_(files),
        session_(options.session),
        known_(std::move(known)),
        queue_(queue) {
    if (jobs > 1) session_.threads = Threads::one;
    for (unsigned i = 0; i < jobs; ++i) queue_.add_giver();
    for (unsigned i = 0; i < jobs; ++i) {
      threads_.emplace_back([this] {
        read_files();
        queue_.giver_done();
      });
    }
  }
  Readers(const Readers&) = delete;
  Readers& operator=(const Readers&) = delete;
  ~Readers() {
    for (std::thread& thread : threads_) thread.join();
  }

 private:
  void read_files() {
    while (true) {
      const std::size_t i = next_.fetch_add(1);
      if (i >= files_.size() || !read(files_[i])) return;
    }
  }
  /// False where nobody takes any more.
  bool read(const std::string& file) {
    if (is_digest(file)) return read_digests(file);
    const Result<std::string> id = content_id(file);
    if (!id) return queue_.push({id.error()});
    if (std::binary_search(known_.begin(), known_.end(), *id)) {
      return queue_.push({std::monostate{}});
    }
    Result<Digested> digested = digest_log(file, session_, *id);
    if (!digested) return queue_.push({digested.error()});
    return queue_.push({std::move(digested->digest)});
  }
  static bool is_digest(const std::string& file) {
    std::ifstream in(file, std::ios::binary);
    std::string first(32, '\0');
    in.read(first.data(), static_cast<std::streamsize>(first.size()));
    first.resize(static_cast<std::size_t>(in.gcount()));
    return looks_like_digest(first);
  }
  bool read_digests(const std::string& file) {
    std::ifstream in(file, std::ios::binary);
    DigestReader reader(in, file);
    std::optional<Work> held;
    while (auto digest = reader.next()) {
      if (held && !queue_.push(std::move(*held))) return false;
      if (*digest) {
        held = Work{std::move(**digest), false};
      } else {
        held = Work{digest->error(), false};
      }
    }
    if (!held) held = Work{std::monostate{}};
    held->file_done = true;
    return queue_.push(std::move(*held));
  }

  const std::vector<std::string>& files_;
  SessionOptions session_;
  std::vector<std::string> known_;
  BoundedQueue<Work>& queue_;
  std::atomic<std::size_t> next_{0};
  std::vector<std::thread> threads_;
};

class Writer {
 public:
  Writer(Store& store, std::size_t files, const AddOptions& options,
         BoundedQueue<Work>& queue)
      : store_(store), files_(files), options_(options), queue_(queue) {}

  Result<AddSummary> run() {
    while (std::optional<Work> work = queue_.pop()) {
      take(std::move(*work));
      // Whatever is ready goes in together; nothing is waited for.
      while (batch_.size() < kBatch) {
        std::optional<Work> more = queue_.try_pop();
        if (!more) break;
        take(std::move(*more));
      }
      if (auto error = write()) {
        queue_.close();
        return *error;
      }
      if (options_.progress) options_.progress(done_, files_);
    }
    return summary_;
  }

 private:
  void take(Work work) {
    if (auto* digest = std::get_if<LogDigest>(&work.what)) {
      const bool unnamed =
          std::any_of(digest->units.begin(), digest->units.end(),
                      [](const UnitDigest& u) { return u.name.empty(); });
      if (unnamed) ++summary_.unnamed;
      batch_.push_back(std::move(*digest));
    } else if (const auto* error = std::get_if<Error>(&work.what)) {
      ++summary_.failed;
      if (options_.trouble) options_.trouble(*error);
    } else {
      ++summary_.known;
    }
    if (work.file_done) ++done_;
  }
  std::optional<Error> write() {
    if (batch_.empty()) return std::nullopt;
    const auto outcomes = store_.add(batch_);
    batch_.clear();
    if (!outcomes) return outcomes.error();
    for (const AddOutcome& outcome : *outcomes) {
      ++(outcome.kind == AddOutcome::Kind::known ? summary_.known
                                                 : summary_.added);
      summary_.runs += static_cast<std::size_t>(outcome.runs);
      summary_.runs_known += static_cast<std::size_t>(outcome.runs_known);
      summary_.runs_replaced += static_cast<std::size_t>(outcome.runs_replaced);
    }
    return std::nullopt;
  }

  Store& store_;
  std::size_t files_;
  const AddOptions& options_;
  BoundedQueue<Work>& queue_;
  std::vector<LogDigest> batch_;
  std::size_t done_ = 0;
  AddSummary summary_;
};

}  // namespace

Result<AddSummary> add_logs(Store& store, const std::vector<std::string>& files,
                            const AddOptions& options) {
  Result<std::vector<std::string>> known = store.known_hashes();
  if (!known) return known.error();
  unsigned jobs = options.jobs;
  if (jobs == 0) jobs = std::max(1U, std::thread::hardware_concurrency());
  jobs = static_cast<unsigned>(
      std::min<std::size_t>(jobs, std::max<std::size_t>(files.size(), 1)));
  BoundedQueue<Work> queue(std::size_t{2} * jobs);
  const Readers readers(files, options, std::move(*known), jobs, queue);
  return Writer(store, files.size(), options, queue).run();
}

}  // namespace telltale::host::season
