#include "report/lock_report.hpp"

#include <algorithm>

#include "report/json_writer.hpp"

namespace sprocketry::report {
namespace {

std::vector<std::string> broken_rules(const search::Lock& lock) {
  std::vector<std::string> names;
  for (const search::LockedRule& rule : lock.rules) {
    if (rule.outcome != search::Outcome::kBroken) continue;
    if (std::ranges::find(names, rule.rule) == names.end()) names.push_back(rule.rule);
  }
  return names;
}

}  // namespace

void write_lock_text(std::ostream& out, const search::Lock& lock, const std::string& file,
                     Colour colour) {
  out << bold(lock.design, colour) << '\n'
      << wrapped("locked in " + file + ": " + std::to_string(lock.parts.size()) +
                     " entries of parts, " + std::to_string(lock.figures.size()) +
                     " figures (each may move " + text_of(lock.tolerances.usual) +
                     " unless the file says otherwise), " + std::to_string(lock.rules.size()) +
                     " rules.",
                 "");
  const auto broken = broken_rules(lock);
  for (std::size_t i = 0; i < broken.size(); ++i) {
    out << (i == 0 ? "Mind that it is rejected by: " : "; ") << broken[i];
  }
  if (!broken.empty()) out << ".\n";
  out << "To see whether it still holds: sprocketry check " << file << '\n';
}

void write_lock_json(std::ostream& out, const search::Lock& lock, const std::string& file) {
  JsonWriter json(out);
  json.begin_object();
  json.member("lock", file);
  json.member("design", lock.design);
  json.key("files");
  json.begin_list();
  for (const search::LockedFile& one : lock.files) {
    json.begin_object(Layout::kLine);
    json.member("role", one.role);
    json.member("path", one.path);
    json.member("sha256", one.sha256);
    json.end_object();
  }
  json.end_list();
  json.key("metrics");
  json.begin_object();
  for (const search::Figure& figure : lock.figures) json.member(figure.key, figure.value);
  json.end_object();
  json.key("rejected_by");
  json.begin_list(Layout::kLine);
  for (const std::string& name : broken_rules(lock)) json.value(name);
  json.end_list();
  json.end_object();
  json.end_line();
}

}  // namespace sprocketry::report
