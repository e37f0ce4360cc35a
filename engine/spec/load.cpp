#include "spec/load.hpp"

#include <algorithm>
#include <array>

#include "parts/load_parts.hpp"
#include "spec/load_sections.hpp"

namespace sprocketry::spec {
namespace {

using parts::PartsFile;

// Where the parts files are, as far as `parts` says so rightly.
std::vector<PartsFile> read_parts_files(Reader& root, const std::filesystem::path& folder,
                                        const std::filesystem::path& shown_folder) {
  std::vector<PartsFile> files;
  const auto* items = root.list("parts", "[parts.yaml]");
  if (items == nullptr) return files;
  for (const document::Node& item : *items) {
    const auto name = parts::read_text(item, "parts", root.findings());
    if (!name) continue;
    const std::filesystem::path path = (folder / *name).lexically_normal();
    const auto same = std::ranges::find(files, path, &PartsFile::path);
    if (same != files.end()) {
      root.findings().diagnostics.add({document::Severity::kError, item.mark,
                                       "the parts file \"" + *name + "\" is named twice",
                                       "name it once", same->mentioned, "first named here"});
      continue;
    }
    files.push_back({path, (shown_folder / *name).string(), item.mark});
  }
  return files;
}

// Without an option in a slot there is nothing to search.
void check_slots(Reader& root, const parts::Catalogue& catalogue) {
  const auto need = [&](bool present, std::string_view kind, std::string_view key) {
    if (present) return;
    root.error("parts", "the parts files hold no " + std::string(kind),
               "add at least one under `" + std::string(key) + "`");
  };
  need(!catalogue.motors.empty(), "motor", "motors");
  need(!catalogue.controllers.empty(), "controller", "controllers");
  need(!catalogue.cells.empty(), "cell", "cells");
  need(!catalogue.chains.empty(), "chain", "chains");
  need(!catalogue.front_sprockets.empty(), "front sprocket", "front_sprockets");
  need(!catalogue.rear_sprockets.empty(), "rear sprocket", "rear_sprockets");
}

void read_version(Reader& root) {
  constexpr int kVersion = 1;
  const auto version = root.integer("sprocketry", {1, 1000}, std::to_string(kVersion));
  if (!version || *version == kVersion) return;
  root.error("sprocketry",
             "the file is written for version " + std::to_string(*version) +
                 " of the format, this program reads version 1",
             "write `sprocketry: 1`, or use a newer program");
}

void read_head(Reader& root, Requirement& requirement) {
  read_version(root);
  requirement.title = root.optional_text("title").value_or("");
  if (const auto currency = root.optional_text("currency")) {
    constexpr std::size_t kLongest = 16;
    requirement.currency = *currency;
    if (currency->size() > kLongest) {
      root.error("currency", "`currency` is longer than a name of a currency",
                 "write for example EUR");
    }
  } else if (!root.has("currency")) {
    root.record_default("currency", requirement.currency, kCommonPractice);
  }
}

void read_sections(Reader& root, const Surrounding& around, Requirement& requirement) {
  read_owned(root, around, requirement);
  read_bike(root, around, requirement);
  read_loads(root, requirement);
  read_conditions(root, requirement);
  read_ride(root, around, requirement);
  read_speeds(root, requirement);
  read_must(root, requirement);
  read_charging(root, requirement);
  read_choose(root, around, requirement);
  read_objectives(root, requirement);
}

// In ascending order; what stands several times (in the entries of a list) has no path of its own.
void keep_each_once(std::vector<parts::Input>& inputs) {
  std::ranges::stable_sort(inputs, {}, &parts::Input::path);
  std::vector<parts::Input> kept;
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    const bool before = i > 0 && inputs[i - 1].path == inputs[i].path;
    const bool after = i + 1 < inputs.size() && inputs[i + 1].path == inputs[i].path;
    if (!before && !after) kept.push_back(inputs[i]);
  }
  inputs = std::move(kept);
}

// By keys that no parts file has; the version stands in both.
bool is_requirement(const document::Node& root) {
  constexpr std::array<std::string_view, 4> kKeys = {"parts", "bike", "rider", "must"};
  return std::ranges::any_of(kKeys,
                             [&](std::string_view key) { return root.find(key) != nullptr; });
}

// The trace that the ride names, if it does.
std::filesystem::path trace_of(const document::Node& requirement) {
  const document::Node* ride = requirement.find("ride");
  const document::Node* trace = ride == nullptr ? nullptr : ride->find("trace");
  return trace == nullptr ? "" : trace->scalar;
}

}  // namespace

std::optional<Job> load_job(const std::filesystem::path& path,
                            const std::vector<std::string>& overrides,
                            document::Diagnostics& diagnostics, WrittenJob* written) {
  std::vector<Override> typed;
  typed.reserve(overrides.size());
  for (const std::string& assignment : overrides) typed.push_back({assignment});
  return load_overridden(path, typed, diagnostics, written);
}

std::optional<Job> load_overridden(const std::filesystem::path& path,
                                   const std::vector<Override>& overrides,
                                   document::Diagnostics& diagnostics, WrittenJob* written) {
  auto node = document::load_yaml(path, path.string(), {}, diagnostics);
  if (!node) return {};
  const document::Source* source = node->mark.source;
  if (node->kind == document::NodeKind::kEmpty) {
    diagnostics.error(node->mark, "the requirement is empty",
                      "begin with `sprocketry: 1` and `parts: [parts.yaml]`");
    return {};
  }
  for (const Override& one : overrides) {
    document::set_path(*node, one.assignment, diagnostics, one.option);
  }

  Job job;
  std::vector<parts::Input> inputs;
  const bool keeps_inputs = written != nullptr || node->find("spread") != nullptr;
  const parts::Tampering tampering{keeps_inputs ? &inputs : nullptr};
  Findings findings{diagnostics, job.requirement.defaults, {}, tampering};
  Reader root(*node, node->mark, "", "the requirement", findings);
  if (!root.is_map()) return {};
  read_head(root, job.requirement);
  const std::filesystem::path folder = path.parent_path();
  const auto files = read_parts_files(root, folder, folder);
  auto loaded = parts::load_parts_files(
      files, diagnostics, written == nullptr ? nullptr : &written->parts, {}, tampering);
  job.catalogue = std::move(loaded.catalogue);
  const bool all_read = loaded.complete && !files.empty();
  if (all_read) check_slots(root, job.catalogue);
  read_sections(root, {job.catalogue, all_read, folder, folder}, job.requirement);
  keep_each_once(inputs);
  read_spread(root, inputs, all_read && !diagnostics.has_errors(), job.requirement);
  root.finish();
  job.requirement.units = display_units(findings.written, source);
  if (diagnostics.has_errors()) return {};
  if (written != nullptr) {
    const std::filesystem::path trace = trace_of(*node);
    if (!trace.empty()) written->trace = folder / trace;
    written->requirement = std::move(*node);
    written->inputs = std::move(inputs);
  }
  return job;
}

std::optional<Job> load_kept_job(const KeptJob& kept, PartsFrom from,
                                 document::Diagnostics& diagnostics, parts::WrittenParts* written,
                                 const parts::Replaced* replaced) {
  const document::Node& node = kept.requirement;
  Job job;
  const parts::Tampering tampering{nullptr, replaced};
  Findings findings{diagnostics, job.requirement.defaults, {}, tampering};
  Reader root(node, node.mark, "", "the requirement", findings);
  if (!root.is_map()) return {};
  read_head(root, job.requirement);
  auto files = read_parts_files(root, kept.folder, kept.shown_folder);
  if (from == PartsFrom::kKept) files.clear();
  job.catalogue =
      parts::load_parts_files(files, diagnostics, written, kept.parts, tampering).catalogue;
  const bool ids_known = false;  // the rest of the catalogue may have changed since
  read_sections(root, {job.catalogue, ids_known, kept.folder, kept.shown_folder, kept.trace},
                job.requirement);
  root.take("spread");
  root.finish();
  job.requirement.units = display_units(findings.written, node.mark.source);
  if (diagnostics.has_errors()) return {};
  return job;
}

std::vector<PartsFile> parts_files_of(const std::filesystem::path& path,
                                      const std::vector<std::string>& overrides,
                                      document::Diagnostics& diagnostics) {
  // A table cannot be composed; whoever reads parts files says so.
  if (path.extension() == ".csv") return {{path, path.string(), {}}};
  auto node = document::load_yaml(path, path.string(), {}, diagnostics);
  if (!node) return {};
  if (!is_requirement(*node)) return {{path, path.string(), {}}};
  for (const std::string& assignment : overrides) {
    document::set_path(*node, assignment, diagnostics);
  }
  std::vector<Default> unused;
  Findings findings{diagnostics, unused};
  Reader root(*node, node->mark, "", "the requirement", findings);
  const std::filesystem::path folder = path.parent_path();
  return read_parts_files(root, folder, folder);
}

}  // namespace sprocketry::spec
