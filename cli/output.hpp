#pragma once

#include <string>
#include <string_view>

#include "report/text.hpp"

namespace sprocketry::cli {

// Makes standard output safe to write to: a reader that stops is an error of writing, not a signal
// that ends the program without a word; and where a stream is closed, no file that is opened later
// takes its place. Call before anything else.
void prepare_streams();

// Colour when standard output is a terminal and NO_COLOR is not set (or empty).
report::Colour colour();

// `code` when standard output took everything; else says so on standard error and returns kStopped.
int finish_output(int code);

// Whether a file may be written there: its folder exists and can be written to. If not, says why on
// standard error.
bool can_write(const std::string& path);

// Writes a whole file under another name beside it and renames it, so that a failure leaves the old
// one as it was. If it cannot, says why on standard error and returns false.
bool write_file(const std::string& path, std::string_view text);

}  // namespace sprocketry::cli
