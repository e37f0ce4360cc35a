#include <gtest/gtest.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include "document/csv.hpp"
#include "document_support.hpp"

namespace sprocketry::document {
namespace {

namespace fs = std::filesystem;

class Files : public testing::Test {
 protected:
  void SetUp() override {
    std::string name = (fs::temp_directory_path() / "documentXXXXXX").string();
    ASSERT_NE(mkdtemp(name.data()), nullptr);
    folder_ = name;
  }
  void TearDown() override { fs::remove_all(folder_); }

  fs::path write(const std::string& name, const std::string& text) const {
    std::ofstream(folder_ / name, std::ios::binary) << text;
    return folder_ / name;
  }

  // What is reported for a file that the second line of a requirement names.
  std::string reported_at_mention(const fs::path& path) {
    const Source& naming = diagnostics_.add_source("spec.yaml", "sprocketry: 1\nparts: [x.yaml]\n");
    EXPECT_FALSE(load_yaml(path, "x.yaml", {&naming, 2, 9}, diagnostics_));
    return diagnostics_.text();
  }

  fs::path folder_;
  Diagnostics diagnostics_;
};

TEST_F(Files, AreReadWhole) {
  const auto root = load_yaml(write("a.yaml", "a: 1\n"), "shown.yaml", {}, diagnostics_);
  ASSERT_TRUE(root);
  EXPECT_EQ(outline(*root), "{a: 1}");
  EXPECT_EQ(root->mark.source->name, "shown.yaml");
}

TEST_F(Files, ThatAreMissingAreReportedWhereTheyAreNamed) {
  const std::string text = reported_at_mention(folder_ / "x.yaml");
  EXPECT_EQ(text.substr(0, text.find('\n')),
            "spec.yaml:2:9: error: the file 'x.yaml' does not exist");
  EXPECT_NE(text.find("    2 | parts: [x.yaml]"), std::string::npos);
}

TEST_F(Files, ThatNobodyNamesAreReportedUnderTheirName) {
  EXPECT_FALSE(load_yaml(folder_ / "x.yaml", "x.yaml", {}, diagnostics_));
  const std::string text = diagnostics_.text();
  EXPECT_EQ(text.substr(0, text.find('\n')), "x.yaml: error: the file does not exist");
}

TEST_F(Files, ThatAreFoldersOrDevicesAreRefused) {
  EXPECT_NE(reported_at_mention(folder_).find("is a folder"), std::string::npos);
  EXPECT_NE(reported_at_mention("/dev/zero").find("a device, not a file"), std::string::npos);
}

TEST_F(Files, ThatArePipesOrSocketsAreRefusedAtOnce) {
  const fs::path pipe = folder_ / "pipe";
  ASSERT_EQ(mkfifo(pipe.c_str(), 0600), 0);
  EXPECT_NE(reported_at_mention(pipe).find("is a pipe or a device"), std::string::npos);
  const fs::path name = folder_ / "socket";
  sockaddr_un address{};
  address.sun_family = AF_UNIX;
  name.string().copy(address.sun_path, sizeof(address.sun_path) - 1);
  const int socket_file = socket(AF_UNIX, SOCK_STREAM, 0);
  ASSERT_EQ(bind(socket_file, reinterpret_cast<const sockaddr*>(&address), sizeof(address)), 0);
  EXPECT_NE(reported_at_mention(name).find("is a pipe or a device"), std::string::npos);
  close(socket_file);
}

TEST_F(Files, ThatAreTooLargeAreRefused) {
  const fs::path path = write("big.yaml", "a: 1\n");
  fs::resize_file(path, kMaxFileSize + 1);
  EXPECT_NE(reported_at_mention(path).find("larger than 16 MiB"), std::string::npos);
}

TEST_F(Files, ThatCannotBeReadSayWhy) {
  const fs::path loop = folder_ / "loop";
  fs::create_symlink("loop", loop);
  EXPECT_NE(reported_at_mention(loop).find("cannot be read"), std::string::npos);
  const fs::path long_name = folder_ / std::string(5000, 'x');
  EXPECT_NE(reported_at_mention(long_name).find("cannot be read"), std::string::npos);
}

TEST_F(Files, WithTablesAreReadAlike) {
  const auto table = load_csv(write("a.csv", "id,mass\nx,1 kg\n"), "a.csv", {}, diagnostics_);
  ASSERT_TRUE(table);
  EXPECT_EQ(all_cells(*table).at(0).at(1).text, "1 kg");
  EXPECT_FALSE(load_csv(folder_ / "b.csv", "b.csv", {}, diagnostics_));
  EXPECT_NE(diagnostics_.text().find("b.csv: error: the file does not exist"), std::string::npos);
}

// The tree after one override, or what was reported.
std::string after(const std::string& text, const std::string& assignment) {
  Composed composed(text);
  EXPECT_TRUE(composed.root);
  set_path(*composed.root, assignment, composed.diagnostics);
  if (!composed.diagnostics.all().empty()) return composed.diagnostics.text();
  return outline(*composed.root);
}

TEST(SetPath, ReplacesAndAddsValues) {
  const std::string text = "must: {top_speed: {min: 70 km/h}}\ncruise: [40 km/h, 60 km/h]";
  const std::string cruise = ", cruise: [40 km/h, 60 km/h]}";
  EXPECT_EQ(after(text, "must.top_speed.min=80 km/h"),
            "{must: {top_speed: {min: 80 km/h}}" + cruise);
  EXPECT_EQ(after(text, "must.range.min=45 km"),
            "{must: {top_speed: {min: 70 km/h}, range: {min: 45 km}}" + cruise);
  EXPECT_EQ(after(text, "must={}"), "{must: {}" + cruise);
  EXPECT_EQ(after(text, "must="), "{must: ~" + cruise);
  EXPECT_EQ(after("a: 1", "a=x=y"), "{a: x=y}");
  EXPECT_EQ(after("a: [1, 2]", "a.1=3"), "{a: [1, 3]}");
  EXPECT_EQ(after("a: [1, 2]", "a.2={b: 4}"), "{a: [1, 2, {b: 4}]}");
  EXPECT_EQ(after("a:", "a.b=1"), "{a: {b: 1}}");
  EXPECT_EQ(after("a:", "c.0.d=1"), "{a: ~, c: [{d: 1}]}");
}

TEST(SetPath, MarksWhatItSetsInTheOverride) {
  Composed composed("a: {b: 1}");
  set_path(*composed.root, "a.\xC3\xA4.d=[70 km/h]", composed.diagnostics);
  const Entry& added = composed.root->find("a")->entries.at(1);
  EXPECT_EQ(added.key_mark.source->name, "--set a.\xC3\xA4.d=[70 km/h]");
  EXPECT_EQ(place(added.key_mark), "1:3");
  EXPECT_EQ(place(added.value.find("d")->mark), "1:7");
  EXPECT_EQ(place(added.value.find("d")->items.at(0).mark), "1:8");
}

// What the new value lacks is not missing from the line of the old one.
TEST(SetPath, MarksTheKeyWhoseWholeValueItReplacesButNoKeyOnTheWay) {
  Composed composed("a: {b: 1, c: 2}");
  set_path(*composed.root, "a.b={d: 3}", composed.diagnostics);
  const Entry& outer = composed.root->entries.front();
  EXPECT_EQ(outer.value.entries.at(0).key_mark.source->name, "--set a.b={d: 3}");
  EXPECT_EQ(place(outer.value.entries.at(0).key_mark), "1:3");
  EXPECT_EQ(outer.key_mark.source, outer.value.entries.at(1).key_mark.source);
  EXPECT_EQ(place(outer.value.entries.at(1).key_mark), "1:11");
}

TEST(SetPath, ReportsWhatCannotBeSetAndLeavesTheTreeAlone) {
  struct Case {
    std::string assignment;
    std::string report;
  };
  const std::vector<Case> cases = {
      {"a", ":1:1: error: an override needs"},    {"a..b=1", ":1:3: error: a key is missing"},
      {"=1", ":1:1: error: a key is missing"},    {"a.=1", ":1:3: error: a key is missing"},
      {"a.b.c=1", ":1:5: error: 'c' cannot"},     {"l.5=1", ":1:3: error: '5' is not a position"},
      {"l.x=1", ":1:3: error: 'x' is not a pos"}, {"l.-1=1", ":1:3: error: '-1' is not a pos"},
      {"x.y=[1", ":1:7: error: a '['"},           {"a={k: 1, k: 2}", ":1:10: error: the key 'k'"},
      {"a=*x", ":1:3: error: aliases"},           {"a=\x1b", ":1:3: error: the control"},
  };
  for (const Case& one : cases) {
    Composed composed("a: {b: 1}\nl: [1, 2]");
    set_path(*composed.root, one.assignment, composed.diagnostics);
    EXPECT_NE(composed.diagnostics.text().find(one.report), std::string::npos)
        << one.assignment << "\n"
        << composed.diagnostics.text();
    EXPECT_EQ(outline(*composed.root), "{a: {b: 1}, l: [1, 2]}") << one.assignment;
  }
  std::string deep = "a";
  for (int i = 0; i < 100; ++i) deep += ".a";
  EXPECT_NE(after("b: 1", deep + "=1").find("at most 64"), std::string::npos);
}

}  // namespace
}  // namespace sprocketry::document
