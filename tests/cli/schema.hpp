#pragma once

#include <memory>
#include <nlohmann/json.hpp>
#include <string>

namespace sprocketry::test {

// One of the JSON Schemas (draft-07) in specs/schema, with those that it refers to.
class Schema {
 public:
  explicit Schema(const std::string& name);  // "search" is search.schema.json
  ~Schema();
  Schema(const Schema&) = delete;
  Schema& operator=(const Schema&) = delete;

  // "" for a valid document; else what is wrong, a line each.
  [[nodiscard]] std::string problems(const nlohmann::json& document) const;

 private:
  struct Compiled;
  std::unique_ptr<Compiled> compiled_;
};

// The text of a schema as it stands in the file.
nlohmann::json schema_document(const std::string& name);

// What an editor sees of a YAML file: numbers and booleans where YAML 1.2 reads some.
nlohmann::json yaml_as_json(const std::string& text);

}  // namespace sprocketry::test
