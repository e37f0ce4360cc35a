#pragma once

#include <string>

namespace sprocketry::document {

// A complaint of the YAML parser in the words of somebody who writes such a file.
struct Complaint {
  std::string message;
  std::string hint;
};

// `parser_message` as the parser's exception carries it, without a position.
Complaint plain_words(const std::string& parser_message);

}  // namespace sprocketry::document
