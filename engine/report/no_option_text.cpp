#include "report/no_option_text.hpp"

#include "report/text.hpp"

namespace sprocketry::report {

void write_no_option(std::ostream& out, const spec::Job& job, const search::Space& space) {
  const auto none = search::slots_without_option(job, space);
  std::string slots;
  for (const search::NoOption& one : none) {
    slots += (slots.empty() ? "" : ", ") + std::string(one.slot);
  }
  out << "There is nothing to combine: no option for: " << slots << ".\n\n";
  for (const search::NoOption& one : none) {
    out << wrapped(std::string(one.slot) + ": " + one.why + ". " + one.where, "  ");
    if (!one.what.empty()) out << "    " << one.what << '\n';
  }
}

}  // namespace sprocketry::report
