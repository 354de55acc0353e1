// A PDF as other programs read it: pdftotext, pdfinfo and pdftoppm of poppler, qpdf, zbarimg.
#pragma once

#include <catch2/catch.hpp>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <memory>
#include <string>
#include <vector>

namespace reader {

// What a shell says; FILE in the command is the PDF's path, BESIDE that of a file beside it, removed afterwards.
inline std::string said(std::string command, const std::string& pdf) {
  const auto path = std::filesystem::temp_directory_path() / "witnessmark-pages-test.pdf";
  const auto beside = std::filesystem::temp_directory_path() / "witnessmark-pages-test-beside";
  std::ofstream(path, std::ios::binary) << pdf;
  const auto put = [&](const std::string& word, const std::string& name) {
    for (auto at = command.find(word); at != std::string::npos; at = command.find(word, at + name.size()))
      command.replace(at, word.size(), name);
  };
  put("FILE", path.string());
  put("BESIDE", beside.string());
  const auto closed = [](FILE* pipe) { pclose(pipe); };
  const std::unique_ptr<FILE, decltype(closed)> pipe(popen(command.c_str(), "r"), closed);
  REQUIRE(pipe);
  std::string out;
  for (int letter = std::fgetc(pipe.get()); letter != EOF; letter = std::fgetc(pipe.get()))
    out += static_cast<char>(letter);
  std::filesystem::remove(path);
  std::filesystem::remove(beside.string() + ".png");
  return out;
}

// The text of each page.
inline std::vector<std::string> sheets(const std::string& pdf) {
  std::vector<std::string> out;
  std::string all = said("pdftotext -layout FILE -", pdf);
  for (auto end = all.find('\f'); end != std::string::npos; end = all.find('\f')) {
    out.push_back(all.substr(0, end));
    all.erase(0, end + 1);
  }
  return out;
}

inline bool has(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

inline std::size_t count(const std::string& text, const std::string& word) {
  std::size_t found = 0;
  for (auto at = text.find(word); at != std::string::npos; at = text.find(word, at + word.size())) ++found;
  return found;
}

} // namespace reader
