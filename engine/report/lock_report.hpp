#pragma once

#include <ostream>
#include <string>

#include "report/text.hpp"
#include "search/lock.hpp"

namespace sprocketry::report {

// What was locked and where, for people: counts, the rules that reject it already, how to check.
void write_lock_text(std::ostream& out, const search::Lock& lock, const std::string& file,
                     Colour colour);

// The same as JSON: {"lock": FILE, "design": ID, "files": [...], "metrics": {...},
// "rejected_by": [...]}.
void write_lock_json(std::ostream& out, const search::Lock& lock, const std::string& file);

}  // namespace sprocketry::report
