#include "cli/schema.hpp"

#include <yaml-cpp/yaml.h>

#include <fstream>
#include <regex>
#include <stdexcept>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validation_results.hpp>
#include <valijson/validator.hpp>

namespace sprocketry::test {
namespace {

using nlohmann::json;
using Adapter = valijson::adapters::NlohmannJsonAdapter;

json read_document(const std::string& file_name) {
  std::ifstream file(std::string(SPROCKETRY_SOURCE_DIR) + "/specs/schema/" + file_name);
  if (!file) throw std::runtime_error("there is no schema " + file_name);
  return json::parse(file);
}

json scalar_as_json(const YAML::Node& node) {
  static const std::regex kNumber("[+-]?([0-9]+(\\.[0-9]*)?|\\.[0-9]+)([eE][+-]?[0-9]+)?");
  const std::string& text = node.Scalar();
  if (node.Tag() == "!") return text;  // in quotes
  if (text == "true") return true;
  if (text == "false") return false;
  if (std::regex_match(text, kNumber)) return json::parse(text, nullptr, false);
  return text;
}

json node_as_json(const YAML::Node& node) {
  if (node.IsMap()) {
    json object = json::object();
    for (const auto& entry : node) object[entry.first.Scalar()] = node_as_json(entry.second);
    return object;
  }
  if (node.IsSequence()) {
    json list = json::array();
    for (const auto& item : node) list.push_back(node_as_json(item));
    return list;
  }
  return node.IsScalar() ? scalar_as_json(node) : json();
}

}  // namespace

struct Schema::Compiled {
  valijson::Schema schema;
};

Schema::Schema(const std::string& name) : compiled_(std::make_unique<Compiled>()) {
  const json document = schema_document(name);
  valijson::SchemaParser parser;
  parser.populateSchema(
      Adapter(document), compiled_->schema,
      [](const std::string& uri) { return new json(read_document(uri)); },
      [](const json* other) { delete other; });
}

Schema::~Schema() = default;

std::string Schema::problems(const json& document) const {
  valijson::Validator validator;
  valijson::ValidationResults results;
  std::string text;
  if (validator.validate(compiled_->schema, Adapter(document), &results)) return text;
  valijson::ValidationResults::Error error;
  constexpr std::size_t kShown = 8;
  for (std::size_t i = 0; i < kShown && results.popError(error); ++i) {
    for (const std::string& step : error.context) text += step;
    text += ": " + error.description + '\n';
  }
  return text.empty() ? "not valid" : text;
}

json schema_document(const std::string& name) { return read_document(name + ".schema.json"); }

json yaml_as_json(const std::string& text) { return node_as_json(YAML::Load(text)); }

}  // namespace sprocketry::test
