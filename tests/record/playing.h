// Plays action lines through a session with a clock of the test's own.
#pragma once

#include "record/session.h"

#include <filesystem>
#include <string>
#include <vector>

namespace playing {

// The demos: demo/NAME.jsonl, played from the project's folder. Each is played once a run.
inline constexpr const char* short_block = "short-block";
inline constexpr const char* marigold = "marigold";
inline constexpr const char* teardown = "teardown";

std::vector<std::string> demo_lines(const std::string& name);
// The answers to its lines.
const std::vector<std::string>& demo_answers(const std::string& name);
// A practice shop with the whole demo in it, closed.
void copy_demo_shop(const std::filesystem::path& to, const std::string& name = short_block);

// A session on a shop of anna (owner, builder, "anna's passphrase") and ben (builder, "ben's passphrase").
class Shop {
public:
  explicit Shop(const std::filesystem::path& path, bool practice = false);
  json::Value perform(const std::string& line); // each performs `line` on the session
  bool ok(const std::string& line);
  std::string refused(const std::string& line); // code, "" when accepted
  std::string message;
  record::Session open() const; // another session on the same file, with the same clock
  record::Session session;
  static calc::Moment now;

private:
  std::filesystem::path path_;
};

} // namespace playing
