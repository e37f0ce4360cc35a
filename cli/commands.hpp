#pragma once

#include <CLI/CLI.hpp>
#include <functional>

namespace sprocketry::cli {

// Exit codes.
inline constexpr int kDone = 0;
inline constexpr int kAnswerIsNo = 1;
inline constexpr int kBadInput = 2;
inline constexpr int kStopped = 3;
inline constexpr int kDefect = 70;

// Adds a command to the program; the command's work is left in `run`, which returns an exit code.
using Run = std::function<int()>;
void add_search(CLI::App& app, Run& run);
void add_merge(CLI::App& app, Run& run);
void add_evaluate(CLI::App& app, Run& run);
void add_enumerate(CLI::App& app, Run& run);
void add_parts(CLI::App& app, Run& run);
void add_chain(CLI::App& app, Run& run);
void add_swaps(CLI::App& app, Run& run);
void add_sheet(CLI::App& app, Run& run);
void add_guard(CLI::App& app, Run& run);
void add_explain(CLI::App& app, Run& run);
void add_robust(CLI::App& app, Run& run);
void add_compare(CLI::App& app, Run& run);
void add_lock(CLI::App& app, Run& run);
void add_check(CLI::App& app, Run& run);

}  // namespace sprocketry::cli
