// Runs a fuzz target without libFuzzer: its corpus as it is, then a fixed number of inputs made from it by a seeded
// generator (bytes changed, put in, taken out; pieces exchanged between two inputs). The same inputs every time.
#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

std::vector<std::string> corpus(const std::filesystem::path& folder) {
  std::vector<std::filesystem::path> paths;
  for (const auto& item : std::filesystem::directory_iterator(folder)) paths.push_back(item.path());
  std::sort(paths.begin(), paths.end());
  std::vector<std::string> out;
  for (const auto& path : paths) {
    std::ifstream file(path, std::ios::binary);
    out.emplace_back(std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>());
  }
  return out;
}

class Maker {
public:
  explicit Maker(std::vector<std::string> seeds) : seeds_(std::move(seeds)) {}

  std::string next() {
    std::string text = one();
    for (std::size_t times = 1 + below(4); times > 0; --times) change(text);
    return text;
  }

private:
  std::size_t below(std::size_t end) { return end ? chance_() % end : 0; }
  const std::string& one() { return seeds_[below(seeds_.size())]; }

  void change(std::string& text) {
    static constexpr const char* words[] = {"null",
                                            "\"\"",
                                            "[]",
                                            "{}",
                                            "-1",
                                            "1e999",
                                            "0.000000000001",
                                            "true",
                                            "\\u0000",
                                            ",",
                                            "\"",
                                            "}",
                                            "999999999999999999999999999999",
                                            "mm",
                                            " in"};
    const std::size_t at = below(text.size() + 1);
    switch (below(6)) {
    case 0:
      if (at < text.size()) text[at] = static_cast<char>(below(256));
      break;
    case 1: text.erase(at, 1 + below(8)); break;
    case 2: text.insert(at, words[below(std::size(words))]); break;
    case 3: text.insert(at, text.substr(below(text.size() + 1), below(64))); break;
    case 4: { // the rest of another input
      const std::string& other = one();
      text = text.substr(0, at) + other.substr(std::min(other.size(), at));
      break;
    }
    default: { // a number made another
      const auto digit = text.find_first_of("0123456789", at);
      if (digit != std::string::npos) text[digit] = static_cast<char>('0' + below(10));
    }
    }
  }

  std::vector<std::string> seeds_;
  std::mt19937 chance_{1};
};

void run(const std::string& input) {
  LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(input.data()), input.size());
}

} // namespace

int main(int count, char** arguments) {
  if (count != 3) {
    std::cerr << "usage: " << arguments[0] << " CORPUS INPUTS\n";
    return 2;
  }
  const auto seeds = corpus(arguments[1]);
  if (seeds.empty()) return 2;
  for (const auto& seed : seeds) run(seed);
  Maker maker(seeds);
  const long inputs = std::atol(arguments[2]);
  for (long i = 0; i < inputs; ++i) run(maker.next());
  std::cout << inputs << " made-up inputs and " << seeds.size() << " of the corpus\n";
}
