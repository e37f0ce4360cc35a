#include <cmath>

#include "report/check_report.hpp"
#include "report/front_picture.hpp"

namespace sprocketry::report {
namespace {

// One test case; `failure` and `skipped` say why, if so.
struct Case {
  std::string group;
  std::string name;
  std::string failure = {};
  std::string skipped = {};
};

std::string number(const std::optional<double>& value) {
  constexpr int kDecimals = 4;
  return value ? rounded(*value, kDecimals) : "unknown";
}

Case case_of(const search::PartDrift& part, const std::string& currency) {
  Case one{"parts", part.list + ' ' + part.name};
  if (!part.unobtainable()) return one;
  one.failure = "gone from the parts files";
  if (!part.missing.empty()) one.failure = part.missing + ' ' + one.failure;
  if (!part.nearest.empty()) {
    one.failure += part.renamed ? "; renamed to " + part.nearest + "?"
                                : "; the nearest name is " + part.nearest;
  }
  for (const search::StandIn& stand_in : part.stand_ins) {
    one.failure += "; " + stand_in_text(stand_in, currency);
  }
  return one;
}

Case case_of(const search::FigureDrift& figure) {
  Case one{"figures", figure.key};
  if (!figure.beyond) return one;
  one.failure = "was " + number(figure.then) + ", is " + number(figure.now) + ", may move " +
                number(figure.allowed);
  return one;
}

Case case_of(const search::RuleDrift& drift) {
  const search::LockedRule& rule = drift.either();
  Case one{"rules", rule.rule + (rule.about.empty() ? "" : " (" + rule.about + ")")};
  const std::string unit = rule.unit.empty() ? "" : ' ' + rule.unit;
  if (drift.broken()) {
    one.failure = "value " + number(rule.value) + unit + ", limit " + number(rule.limit) + unit;
    if (drift.then) one.failure += ", margin was " + number(drift.then->margin) + unit;
  } else if (drift.now && drift.now->outcome == search::Outcome::kUnchecked) {
    one.skipped = "a field is not given";
  }
  return one;
}

void write_case(std::ostream& out, const Case& one) {
  out << "    <testcase classname=\"sprocketry." << one.group << "\" name=\"" << escaped(one.name)
      << '"';
  if (!one.failure.empty()) {
    out << ">\n      <failure message=\"" << escaped(one.failure) << "\" type=\"" << one.group
        << "\"/>\n    </testcase>\n";
  } else if (!one.skipped.empty()) {
    out << ">\n      <skipped message=\"" << escaped(one.skipped) << "\"/>\n    </testcase>\n";
  } else {
    out << "/>\n";
  }
}

}  // namespace

void write_check_junit(std::ostream& out, const CheckAnswer& a) {
  std::vector<Case> cases;
  const std::string& currency = a.check.job->requirement.currency;
  for (const auto& part : a.check.parts) cases.push_back(case_of(part, currency));
  for (const auto& figure : a.check.figures) cases.push_back(case_of(figure));
  for (const auto& rule : a.check.rules) cases.push_back(case_of(rule));
  std::size_t failures = 0;
  std::size_t skipped = 0;
  for (const Case& one : cases) {
    if (!one.failure.empty()) ++failures;
    if (!one.skipped.empty()) ++skipped;
  }
  const std::string counts = " tests=\"" + std::to_string(cases.size()) + "\" failures=\"" +
                             std::to_string(failures) + "\" errors=\"0\" skipped=\"" +
                             std::to_string(skipped) + '"';
  out << "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<testsuites" << counts
      << ">\n  <testsuite name=\"" << escaped(a.lock.design) << '"' << counts << ">\n";
  for (const Case& one : cases) write_case(out, one);
  out << "  </testsuite>\n</testsuites>\n";
}

}  // namespace sprocketry::report
