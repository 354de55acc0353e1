// What is measured on: a folder that goes away, practice shops of one person with one gauge, procedures of any length
// made up for it, and engines put together by them through the same sessions as any other. Whatever does not go as it
// should is a std::runtime_error that says what.
#pragma once

#include "record/session.h"

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace speed {

class Folder {
public:
  explicit Folder(const std::filesystem::path& in); // made inside `in`
  ~Folder();
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::filesystem::path operator/(std::string_view name) const { return path_ / name; }
  const std::filesystem::path& path() const { return path_; }

private:
  std::filesystem::path path_;
};

// Where files are made that are not measured while they are made: in memory where there is such a folder.
std::filesystem::path folder_for_making(const std::filesystem::path& otherwise);

inline constexpr std::string_view person = "ivo";
inline constexpr std::string_view passphrase = "copper and brass";

// Sections of a hundred steps, each after the one before, with a reading of a bore, a mark and something to confirm.
std::string procedure_of(int steps);

// What one step takes, in order: record, identify, confirm, sign.
constexpr std::size_t actions_of_a_step = 4;
std::vector<std::string> actions_of(std::string_view build, int step);

class Player {
public:
  explicit Player(const std::filesystem::path& file); // a new shop, its person signed in
  void perform(const std::string& line);
  void open_build(std::string_view build, int steps);
  void do_steps(std::string_view build, int steps); // the first of them
  void release(std::string_view build);
  record::Session session;

private:
  std::filesystem::path folder_;
};

// Another session on a shop that was made here, by the same clock.
record::Session session_on(const std::filesystem::path& file);

// A closed shop with one build in it of so many steps, `done` of them signed.
struct Made {
  std::string build;
  int steps = 0;
  int done = 0;
  bool released = false;
};
void make_shop(const std::filesystem::path& file, const std::vector<Made>& builds);

// As many more builds as are wanted beside the one there is, each the same events for another engine: sealed, signed
// and noted as any, but many to a transaction.
void fill_shop(const std::filesystem::path& file, std::string_view like, int from, int to);
std::string build_number(int number);

// Bytes of memory that a program holds ("self" or the id of a process).
double resident(const std::string& process);

} // namespace speed
