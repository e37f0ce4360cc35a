#pragma once

#include <sstream>
#include <string>
#include <vector>

namespace sprocketry::cli {

// The processes that one `mpirun -n N` started together, if it did: ranks 0 to N - 1 of them. Only
// rank 0 speaks; what the others say on standard error is kept in said(). A process that fails
// between join() and leave() ends all of them.
class Ranks {
 public:
  // Looks at what the launcher left in the environment; talks to nobody yet.
  Ranks();
  // Ends all processes when this one did not come to leave().
  ~Ranks();
  Ranks(const Ranks&) = delete;
  Ranks& operator=(const Ranks&) = delete;

  [[nodiscard]] std::size_t rank() const { return rank_; }
  [[nodiscard]] std::size_t size() const { return size_; }
  [[nodiscard]] bool several() const { return size_ > 1; }
  [[nodiscard]] bool first() const { return rank_ == 0; }
  [[nodiscard]] std::string said() const { return said_.str(); }

  // Takes no part in what the others do: is then one rank of one.
  void stay_alone() { size_ = 1; }

  // Whether this program was built to take part in such a run.
  static bool can_join();
  // Call once, by the thread that makes all later calls. Does nothing where one is alone.
  void join();
  // What each rank says, in order of rank, the same on all of them. Each rank must call it.
  [[nodiscard]] std::vector<std::string> exchange(const std::string& mine);
  // The same, but only rank 0 gets to know; nothing on the others.
  [[nodiscard]] std::vector<std::string> gather(const std::string& mine);
  // Each rank must call it; then each may end by itself.
  void leave();

 private:
  std::size_t rank_ = 0;
  std::size_t size_ = 1;
  bool joined_ = false;
  std::ostringstream said_;
  std::streambuf* before_ = nullptr;  // of standard error
};

}  // namespace sprocketry::cli
