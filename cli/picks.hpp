#pragma once

#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <vector>

#include "search/pick.hpp"

namespace sprocketry::cli {

// --pick SLOT=ID or --pick DESIGN, for commands on one set of parts.
void add_picks(CLI::App& command, std::vector<std::string>& picks);

// What the help of such a command says about slots that are not picked.
inline constexpr const char* kAboutPicks =
    "A slot that is not picked is filled in when only one option fits; else its options are\n"
    "listed. A pick that `choose` leaves out is evaluated, with a caution.\n\n";

// The picked combination; where the picks are wrong or leave something open, says so on standard
// error.
std::optional<search::Picked> picked(const spec::Job& job, const search::Setup& setup,
                                     const std::vector<std::string>& picks,
                                     const char* option = "--pick");

}  // namespace sprocketry::cli
