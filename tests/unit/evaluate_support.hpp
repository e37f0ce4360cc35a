#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <string_view>

#include "load_support.hpp"
#include "search/pack_days.hpp"

namespace sprocketry::test {

// The first combination of a requirement and its parts, evaluated whole. The design points into the
// object, which stays where it was made.
class Evaluated {
 public:
  Evaluated(std::string_view requirement, std::string_view parts) {
    load_into(loaded_, requirement, parts);
    if (!loaded_.job) {
      ADD_FAILURE() << loaded_.text();
      return;
    }
    setup_ = search::make_setup(loaded_.requirement());
    space_ = search::make_space(*loaded_.job);
    design_ = search::evaluate_design(setup_, space_, {});
  }
  Evaluated(const Evaluated&) = delete;
  Evaluated& operator=(const Evaluated&) = delete;

  [[nodiscard]] const spec::Job& job() const { return loaded_.job.value(); }
  [[nodiscard]] const search::Design& design() const { return design_; }
  [[nodiscard]] search::PackDays days() const { return search::pack_days(job(), space_, {}); }
  // The row of a rule with one item.
  [[nodiscard]] rules::Row row(std::string_view rule) const {
    const auto found = std::ranges::find(design_.rows, rule, &rules::Row::rule);
    if (found != design_.rows.end()) return *found;
    ADD_FAILURE() << "there is no rule " << rule;
    return {};
  }

 private:
  Loaded loaded_;
  search::Setup setup_;
  search::Space space_;
  search::Design design_;
};

// "holds", "fails" or "lacks FIELD".
inline std::string outcome(const rules::Row& row) {
  if (row.unchecked) return "lacks " + row.missing;
  return row.holds ? "holds" : "fails";
}

}  // namespace sprocketry::test
