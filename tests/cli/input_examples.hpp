#pragma once

#include <string>
#include <vector>

namespace sprocketry::test {

// A requirement and its parts file, both valid.
struct InputExample {
  std::string requirement;
  std::string parts;
};

// Together they write every key that the loaders know, in every form that a value may take. All
// makers and parts are invented.
std::vector<InputExample> input_examples();

}  // namespace sprocketry::test
