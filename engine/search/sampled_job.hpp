#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "rules/selection.hpp"
#include "search/design.hpp"
#include "spec/load.hpp"

namespace sprocketry::search {

// What a sample is loaded from: the requirement and of the catalogue the parts of some designs, the
// extras and the tyres. `choose` and the ride, which no sample changes, are left out of the text.
struct SampleSource {
  document::Node requirement;
  std::vector<parts::WrittenPart> parts;
  spec::Choice choose;  // the designs' packs and tooth counts
  model::Profile ride;
  std::string ride_name;
};
SampleSource make_source(const spec::Job& job, const spec::WrittenJob& written,
                         std::span<const rules::Selection> designs);

// Loads it with other values of some inputs. Nothing when the loaders refuse them; then `why` gets
// their first word. Its diagnostics must still live that the marks of the source point into.
std::optional<spec::Job> sampled_job(const SampleSource& source, const parts::Replaced& replaced,
                                     std::string& why);

// The designs' places in the space of any job of that source.
std::vector<Combination> places(const Space& space, std::span<const rules::Selection> designs);

}  // namespace sprocketry::search
