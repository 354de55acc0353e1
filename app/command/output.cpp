#include "command/output.h"

#include "json/utf8.h"

#include <ostream>

namespace command {

namespace {

constexpr std::size_t longest_line = 4000; // characters: the longest path of a file fits
constexpr std::size_t columns = 100;

} // namespace

Exit refuse(const Streams& streams, std::string_view message) {
  streams.err << "error: " << one_line(message) << '\n';
  return Exit::could_not_try;
}

std::string one_line(std::string_view text) {
  const std::string in_quotes = json::shown(text, longest_line);
  return in_quotes.substr(1, in_quotes.size() - 2);
}

std::string wrapped(std::string_view text, std::size_t indent) {
  std::string all;
  std::string line;
  const auto end_line = [&] {
    all += std::string(indent, ' ') + line + '\n';
    line.clear();
  };
  while (!text.empty()) {
    const std::size_t blank = text.find(' ');
    const std::string_view word = text.substr(0, blank);
    if (!line.empty() && indent + line.size() + 1 + word.size() > columns) end_line();
    if (!line.empty()) line += ' ';
    line += word;
    text.remove_prefix(blank == std::string_view::npos ? text.size() : blank + 1);
  }
  if (!line.empty()) end_line();
  return all;
}

} // namespace command
