#include "record/playing.h"

#include "record/example.h"
#include "json/read.h"
#include "json/write.h"

#include <catch2/catch.hpp>
#include <fstream>
#include <map>

namespace playing {

namespace {

record::Session begun(const std::filesystem::path& path, bool practice) {
  auto session = record::Session::open(path, {practice, [] { return Shop::now; }});
  REQUIRE(session);
  return std::move(*session);
}

struct Demo {
  example::Folder folder;
  std::vector<std::string> answers;
  explicit Demo(const std::string& name) {
    std::filesystem::current_path(PROJECT_FOLDER);
    record::Session session = begun(folder / "demo.shop", true);
    for (const auto& line : demo_lines(name)) answers.push_back(session.answer(line));
  }
};

const Demo& demo(const std::string& name) {
  static std::map<std::string, Demo> played;
  return played.try_emplace(name, name).first->second;
}

} // namespace

calc::Moment Shop::now{1'767'600'000'000, 60};

std::vector<std::string> demo_lines(const std::string& name) {
  std::ifstream file(std::string(PROJECT_FOLDER) + "/demo/" + name + ".jsonl");
  std::vector<std::string> lines;
  for (std::string line; std::getline(file, line);) lines.push_back(line);
  REQUIRE(lines.size() > 100);
  return lines;
}

const std::vector<std::string>& demo_answers(const std::string& name) {
  return demo(name).answers;
}

void copy_demo_shop(const std::filesystem::path& to, const std::string& name) {
  std::filesystem::copy_file(demo(name).folder / "demo.shop", to, std::filesystem::copy_options::overwrite_existing);
}

Shop::Shop(const std::filesystem::path& path, bool practice) : session(begun(path, practice)), path_(path) {
  now = {1'767'600'000'000, 60};
  ok(R"({"do":"enrol","person":"anna","name":"Anna Reed","roles":["owner","builder"],"passphrase":"anna's passphrase"})");
  ok(R"({"do":"sign-in","person":"anna","passphrase":"anna's passphrase"})");
}

json::Value Shop::perform(const std::string& line) {
  return *json::read_one(session.answer(line));
}

bool Shop::ok(const std::string& line) {
  const auto answer = perform(line);
  message = answer.text_or_empty("message");
  INFO(line << " -> " << message);
  CHECK(answer.at("ok").as_boolean());
  return answer.at("ok").as_boolean();
}

std::string Shop::refused(const std::string& line) {
  const auto answer = perform(line);
  if (answer.at("ok").as_boolean()) return "";
  message = answer.at("message").as_text();
  return answer.at("error").as_text();
}

record::Session Shop::open() const {
  return begun(path_, false);
}

} // namespace playing
