#pragma once

#include <ostream>
#include <string>
#include <vector>

#include "report/text.hpp"
#include "spec/requirement.hpp"

namespace sprocketry::report {

// What can hurt a person who builds what the program computes, and who decides about a legal class
// that is demanded; printed with every result.
std::vector<std::string> cautions(const spec::Requirement& requirement);

// The same as a list under a heading.
void write_cautions(std::ostream& out, const spec::Requirement& requirement, Colour colour);

}  // namespace sprocketry::report
