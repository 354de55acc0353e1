#include "command/options.h"

#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

namespace command {

namespace {

constexpr std::string_view end_of_switches = "--";

bool is_switch(std::string_view argument) {
  return argument.size() > 1 && argument.front() == '-';
}

bool is_value(std::string_view argument) {
  return !argument.empty() && !argument.starts_with("--");
}

} // namespace

// Each function gives false after noting the first thing that is wrong.
class ArgumentReader {
public:
  ArgumentReader(const Usage& usage, const std::vector<std::string>& arguments)
      : usage_(usage), arguments_(arguments) {}

  Result<Arguments> read() {
    if (read_all() && nothing_missing()) return std::move(read_);
    return Error{"bad-arguments", fmt::format("{}; usage: {}", wrong_, usage_.line)};
  }

private:
  bool fail(std::string wrong) {
    wrong_ = std::move(wrong);
    return false;
  }

  bool read_all() {
    bool switches = true;
    while (next_ < arguments_.size()) {
      const std::string& argument = arguments_[next_++];
      if (switches && argument == end_of_switches) {
        switches = false;
      } else if (switches && is_switch(argument)) {
        if (!read_switch(argument)) return false;
      } else if (!read_operand(argument)) {
        return false;
      }
    }
    return true;
  }

  bool read_operand(const std::string& argument) {
    if (read_.operands_.size() == usage_.most) return fail(fmt::format("{} is one too many", json::shown(argument)));
    read_.operands_.push_back(argument);
    return true;
  }

  bool read_switch(std::string_view argument) {
    const std::size_t equals = argument.find('=');
    const std::string_view name = argument.substr(0, equals);
    const auto known = std::ranges::find(usage_.switches, name, &Switch::name);
    if (known == usage_.switches.end()) return fail(fmt::format("{} is not known", json::shown(name)));
    if (known->takes != Takes::several && read_.has(name)) return fail(fmt::format("{} is given twice", name));
    std::vector<std::string>& values = read_.values_[std::string(name)];
    if (equals != std::string_view::npos) return read_attached(*known, argument.substr(equals + 1), values);
    if (known->takes == Takes::nothing) return true;
    const std::size_t before = values.size();
    while (next_ < arguments_.size() && is_value(arguments_[next_])) {
      values.push_back(arguments_[next_++]);
      if (known->takes == Takes::one) break;
    }
    return values.size() > before || fail(fmt::format("{} must be followed by its {}", name, known->value));
  }

  bool read_attached(const Switch& known, std::string_view value, std::vector<std::string>& values) {
    if (known.takes == Takes::nothing) return fail(fmt::format("{} takes no value", known.name));
    if (value.empty()) return fail(fmt::format("{} must be followed by its {}", known.name, known.value));
    values.emplace_back(value);
    return true;
  }

  bool nothing_missing() {
    for (const Switch& known : usage_.switches)
      if (known.required && !read_.has(known.name))
        return fail(fmt::format("{} {} is missing", known.name, known.value));
    return read_.operands_.size() >= usage_.least || fail(fmt::format("{} is missing", usage_.operand));
  }

  const Usage& usage_;
  const std::vector<std::string>& arguments_;
  std::size_t next_ = 0;
  Arguments read_;
  std::string wrong_;
};

const std::string& Arguments::value(std::string_view name) const {
  const std::vector<std::string>& all = values(name);
  if (all.size() != 1) throw std::logic_error(fmt::format("{} has no single value", name));
  return all.front();
}

const std::vector<std::string>& Arguments::values(std::string_view name) const {
  static const std::vector<std::string> none;
  const auto found = values_.find(name);
  return found == values_.end() ? none : found->second;
}

Result<Arguments> read_arguments(const Usage& usage, const std::vector<std::string>& arguments) {
  return ArgumentReader(usage, arguments).read();
}

bool ask_for_help(const std::vector<std::string>& arguments) {
  const auto end = std::ranges::find(arguments, end_of_switches);
  return std::find(arguments.begin(), end, "--help") != end;
}

} // namespace command
