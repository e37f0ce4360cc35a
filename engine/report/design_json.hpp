#pragma once

#include <span>

#include "report/json_writer.hpp"
#include "report/pack_days.hpp"
#include "search/design.hpp"

namespace sprocketry::report {

// Which rules a design shows: the telling ones (cautions, unchecked, the three tightest) or all.
enum class RuleRows { kTelling, kAll };

// The rows of a design to show, a pick outside `choose` first.
std::vector<rules::Row> shown_rows(const search::Design& design, RuleRows rows);

// Members of a design: id, parts, metrics, chain, settings, extras, rules, and rejected_by when
// `with_rejections`. The object must be open.
void write_design_members(JsonWriter& json, const search::Design& design,
                          const spec::Requirement& requirement, RuleRows rows,
                          bool with_rejections);

// "defaults": what was assumed, each with its source.
void write_defaults(JsonWriter& json, std::span<const parts::Default> defaults);

// The defaults of the requirement, and of the catalogue those of parts in use by these designs.
std::vector<parts::Default> defaults_in_use(const spec::Job& job,
                                            std::span<const rules::Selection> designs);

// {"design": {...}} of the command `evaluate`.
void write_evaluation(std::ostream& out, const search::Design& design, const search::PackDays& days,
                      const spec::Job& job, RuleRows rows);

}  // namespace sprocketry::report
