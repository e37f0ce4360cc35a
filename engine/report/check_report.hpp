#pragma once

#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "report/text.hpp"
#include "search/check.hpp"

namespace sprocketry::report {

// A lock computed again, with what it is called and which program did it.
struct CheckAnswer {
  std::string_view lock_file;  // as the person wrote it
  std::string_view version;    // of this program
  const search::Lock& lock;
  const search::Check& check;
  const std::vector<std::string>& overrides;  // what was asked besides ("rider.mass=95 kg")
  bool accepting = false;                     // the lock is rewritten after this
};

// What moved, for people: parts, figures beyond their tolerance, rules, files; `all` shows every
// figure and rule.
void write_check_text(std::ostream& out, const CheckAnswer& answer, bool all, Colour colour);

// Everything, as one JSON document.
void write_check_json(std::ostream& out, const CheckAnswer& answer);

// Every part, figure and rule as a test case of JUnit's XML; those for which the check answers no
// are failures, rules that lack a field are skipped.
void write_check_junit(std::ostream& out, const CheckAnswer& answer);

// "2 parts gone, 1 rule broken, 3 figures beyond their tolerance"; "" when the lock holds.
std::string what_fails(const search::Check& check);

// "stand-in keld-150: figures move 3.1 % on average, price +40 EUR; but it breaks ..." for text and
// XML. What the design breaks without the stand-in is not held against it.
std::string stand_in_text(const search::StandIn& stand_in, const std::string& currency);

}  // namespace sprocketry::report
