#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "report/slice_reading.hpp"
#include "report/text.hpp"

namespace sprocketry::report {

// The front of the whole space, from those of its slices, which are merged in one after the other
// and in any order. It holds no more than the members that nothing dominates so far.
class FrontMerge {
 public:
  // `version` is this program's: only what it wrote itself is merged, since another may compute
  // other figures.
  explicit FrontMerge(std::string_view version) : version_(version) {}

  // Reads a slice's front and merges it in. Reports, and merges nothing, when it is broken, of
  // another question, another version or another number of slices than those before, or of a slice
  // that is there already.
  void add(const document::Source& source, document::Diagnostics& diagnostics);

  // The slices that are not there, as "2, 5 to 7"; empty when none is missing.
  [[nodiscard]] std::string missing() const;
  [[nodiscard]] std::size_t slices() const { return of_; }
  [[nodiscard]] bool exact() const { return stopped_.empty(); }
  // The files whose search was stopped before its end.
  [[nodiscard]] const std::vector<std::string>& stopped() const { return stopped_; }
  // Members of the whole front, and of those of the slices.
  [[nodiscard]] std::size_t size() const { return members_.size(); }
  [[nodiscard]] std::size_t offered() const { return offered_; }

  // What one search of the whole space writes as JSON, byte for byte, but for how the account is
  // split into rejected, pruned and evaluated where that search leaves out what cannot be on the
  // front.
  void write_json(std::ostream& out);
  // The account, and the best design in each objective.
  void write_text(std::ostream& out, Colour colour);

 private:
  struct Member {
    std::array<double, search::kMostObjectives> costs{};
    PartIds parts;
    std::string cell;
    std::string text;
  };

  bool agrees(const SliceFront& front, const document::Source& source,
              document::Diagnostics& diagnostics) const;
  void take_head(const SliceFront& front);
  void take_account(const SliceFront& front);
  void take_members(const SliceFront& front);
  void sort_members();
  [[nodiscard]] std::vector<std::string_view> defaults() const;

  std::string version_;
  std::string question_;
  std::size_t of_ = 0;                          // 0: none merged yet
  std::map<std::size_t, std::string> indices_;  // of the slices that are there, with their files
  std::vector<std::string> stopped_;
  std::string title_;
  std::string title_json_;  // as it was written
  std::string objectives_json_;
  std::vector<SliceObjective> objectives_;
  std::vector<std::string> requirement_defaults_;     // as JSON
  std::map<std::string, std::string> part_defaults_;  // by their key, in whose order they stand
  search::Account account_;
  std::vector<Member> members_;
  std::size_t offered_ = 0;  // members of the slices' fronts
};

}  // namespace sprocketry::report
