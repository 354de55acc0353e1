// A disk that can be made to fail: an SQLite VFS over the real one, the default while it lives. It counts every call,
// lets a test answer any of them with an error, and remembers what has been synced and what has not, so that a power
// cut can be played at any moment.
#pragma once

#include <array>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <map>
#include <memory>
#include <string>
#include <vector>

enum class Call { open, read, write, truncate, sync, size, lock, shared_memory, remove, access };
constexpr std::size_t kinds_of_call = 10;

class FaultVfs {
public:
  FaultVfs();
  ~FaultVfs();
  FaultVfs(const FaultVfs&) = delete;
  FaultVfs& operator=(const FaultVfs&) = delete;

  // Asked before every call; anything but 0 (SQLITE_OK) is the answer and the call is not made.
  std::function<int(Call, const std::string& path)> on_call;
  bool write_protected = false; // files are opened for reading only

  int count(Call call) const { return counts_[static_cast<std::size_t>(call)]; }
  void forget_counts() { counts_.fill(0); }
  std::int64_t slept_microseconds() const { return slept_; } // nobody really sleeps

  // What would be on the disk after a power cut now, written to another folder: what was synced, and of each write
  // since then, by the dice, all, nothing, or garbage. Seed 0: nothing.
  void write_survivors(const std::filesystem::path& folder, unsigned seed) const;

  // For the VFS itself.
  struct Change {
    std::int64_t offset = 0;
    std::string bytes;
    bool truncates = false; // to `offset`
  };
  struct Tracked {
    std::string synced;
    std::vector<Change> since;
  };
  int ask(Call call, const std::string& path);
  void opened(const std::string& path);
  void changed(const std::string& path, Change change);
  void synced(const std::string& path);
  void removed(const std::string& path) { files_.erase(path); }
  void slept(std::int64_t microseconds) { slept_ += microseconds; }

private:
  struct Hooks;
  std::unique_ptr<Hooks> hooks_;
  std::array<int, kinds_of_call> counts_{};
  std::map<std::string, Tracked> files_;
  std::int64_t slept_ = 0;
};
