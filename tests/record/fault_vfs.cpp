#include "record/fault_vfs.h"

#include <sqlite3.h>

#include <algorithm>
#include <fstream>
#include <new>
#include <random>
#include <sstream>

namespace {

constexpr std::size_t sector = 512;

// SQLite gives the memory: this, then the real file.
struct Shim {
  sqlite3_file base;
  FaultVfs* vfs;
  std::string* path;
};
constexpr std::size_t real_at = (sizeof(Shim) + 15) / 16 * 16;

Shim& shim(sqlite3_file* file) {
  return *reinterpret_cast<Shim*>(file);
}

sqlite3_file* real(sqlite3_file* file) {
  return reinterpret_cast<sqlite3_file*>(reinterpret_cast<char*>(file) + real_at);
}

int ask(sqlite3_file* file, Call call) {
  return shim(file).vfs->ask(call, *shim(file).path);
}

int close_file(sqlite3_file* file) {
  const int code = real(file)->pMethods->xClose(real(file));
  delete shim(file).path;
  return code;
}

int read_file(sqlite3_file* file, void* to, int size, sqlite3_int64 offset) {
  if (const int code = ask(file, Call::read)) return code;
  return real(file)->pMethods->xRead(real(file), to, size, offset);
}

int write_file(sqlite3_file* file, const void* from, int size, sqlite3_int64 offset) {
  if (const int code = ask(file, Call::write)) return code;
  const std::string bytes(static_cast<const char*>(from), static_cast<std::size_t>(size));
  shim(file).vfs->changed(*shim(file).path, {offset, bytes, false});
  return real(file)->pMethods->xWrite(real(file), from, size, offset);
}

int truncate_file(sqlite3_file* file, sqlite3_int64 size) {
  if (const int code = ask(file, Call::truncate)) return code;
  shim(file).vfs->changed(*shim(file).path, {size, "", true});
  return real(file)->pMethods->xTruncate(real(file), size);
}

// The real sync is left out: what it would promise is kept track of instead.
int sync_file(sqlite3_file* file, int) {
  if (const int code = ask(file, Call::sync)) return code;
  shim(file).vfs->synced(*shim(file).path);
  return SQLITE_OK;
}

int size_of_file(sqlite3_file* file, sqlite3_int64* size) {
  if (const int code = ask(file, Call::size)) return code;
  return real(file)->pMethods->xFileSize(real(file), size);
}

int lock_file(sqlite3_file* file, int level) {
  if (const int code = ask(file, Call::lock)) return code;
  return real(file)->pMethods->xLock(real(file), level);
}

int unlock_file(sqlite3_file* file, int level) {
  return real(file)->pMethods->xUnlock(real(file), level);
}

int check_lock(sqlite3_file* file, int* held) {
  return real(file)->pMethods->xCheckReservedLock(real(file), held);
}

int control_file(sqlite3_file* file, int what, void* argument) {
  return real(file)->pMethods->xFileControl(real(file), what, argument);
}

int sector_size(sqlite3_file* file) {
  return real(file)->pMethods->xSectorSize(real(file));
}

int characteristics(sqlite3_file* file) {
  return real(file)->pMethods->xDeviceCharacteristics(real(file));
}

int map_shared(sqlite3_file* file, int region, int size, int extend, void volatile** memory) {
  if (const int code = ask(file, Call::shared_memory)) return code;
  return real(file)->pMethods->xShmMap(real(file), region, size, extend, memory);
}

int lock_shared(sqlite3_file* file, int offset, int count, int flags) {
  if ((flags & SQLITE_SHM_LOCK) != 0)
    if (const int code = ask(file, Call::lock)) return code;
  return real(file)->pMethods->xShmLock(real(file), offset, count, flags);
}

void order_shared(sqlite3_file* file) {
  real(file)->pMethods->xShmBarrier(real(file));
}

int unmap_shared(sqlite3_file* file, int remove) {
  return real(file)->pMethods->xShmUnmap(real(file), remove);
}

int fetch(sqlite3_file*, sqlite3_int64, int, void** memory) {
  *memory = nullptr; // every read is a call
  return SQLITE_OK;
}

int unfetch(sqlite3_file*, sqlite3_int64, void*) {
  return SQLITE_OK;
}

const sqlite3_io_methods methods = {
    3,           close_file,   read_file,    write_file,   truncate_file, sync_file,       size_of_file,
    lock_file,   unlock_file,  check_lock,   control_file, sector_size,   characteristics, map_shared,
    lock_shared, order_shared, unmap_shared, fetch,        unfetch};

std::string content_of(const std::string& path) {
  std::ostringstream content;
  content << std::ifstream(path, std::ios::binary).rdbuf();
  return content.str();
}

void apply_to(std::string& content, const FaultVfs::Change& change, const std::string& bytes) {
  const auto offset = static_cast<std::size_t>(change.offset);
  if (change.truncates) return content.resize(offset);
  content.resize(std::max(content.size(), offset + bytes.size()));
  content.replace(offset, bytes.size(), bytes);
}

} // namespace

struct FaultVfs::Hooks {
  sqlite3_vfs vfs;
  sqlite3_vfs* under;

  static FaultVfs& owner(sqlite3_vfs* vfs) { return *static_cast<FaultVfs*>(vfs->pAppData); }
  static sqlite3_vfs* below(sqlite3_vfs* vfs) { return owner(vfs).hooks_->under; }

  static int open(sqlite3_vfs* vfs, const char* path, sqlite3_file* file, int flags, int* given) {
    file->pMethods = nullptr;
    const std::string name = path ? path : "";
    if (const int code = owner(vfs).ask(Call::open, name)) return code;
    if (owner(vfs).write_protected)
      flags = (flags & ~(SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE)) | SQLITE_OPEN_READONLY;
    const int code = below(vfs)->xOpen(below(vfs), path, real(file), flags, given);
    if (code != SQLITE_OK) return code;
    new (file) Shim{{&methods}, &owner(vfs), new std::string(name)};
    owner(vfs).opened(name);
    return SQLITE_OK;
  }

  static int remove(sqlite3_vfs* vfs, const char* path, int sync_folder) {
    if (const int code = owner(vfs).ask(Call::remove, path)) return code;
    owner(vfs).removed(path);
    return below(vfs)->xDelete(below(vfs), path, sync_folder);
  }

  static int access(sqlite3_vfs* vfs, const char* path, int flags, int* result) {
    if (const int code = owner(vfs).ask(Call::access, path)) return code;
    return below(vfs)->xAccess(below(vfs), path, flags, result);
  }

  static int full_name(sqlite3_vfs* vfs, const char* path, int size, char* out) {
    return below(vfs)->xFullPathname(below(vfs), path, size, out);
  }

  static int sleep(sqlite3_vfs* vfs, int microseconds) {
    owner(vfs).slept(microseconds);
    return microseconds;
  }

  static int last_error(sqlite3_vfs* vfs, int size, char* text) {
    return below(vfs)->xGetLastError(below(vfs), size, text);
  }
};

FaultVfs::FaultVfs() : hooks_(std::make_unique<Hooks>()) {
  hooks_->under = sqlite3_vfs_find(nullptr);
  sqlite3_vfs& vfs = hooks_->vfs = *hooks_->under; // randomness and the clock stay the real ones
  vfs.pNext = nullptr;
  vfs.zName = "fault";
  vfs.pAppData = this;
  vfs.szOsFile += static_cast<int>(real_at);
  vfs.xOpen = Hooks::open;
  vfs.xDelete = Hooks::remove;
  vfs.xAccess = Hooks::access;
  vfs.xFullPathname = Hooks::full_name;
  vfs.xSleep = Hooks::sleep;
  vfs.xGetLastError = Hooks::last_error;
  sqlite3_vfs_register(&vfs, 1);
}

FaultVfs::~FaultVfs() {
  sqlite3_vfs_unregister(&hooks_->vfs);
  sqlite3_vfs_register(hooks_->under, 1);
}

int FaultVfs::ask(Call call, const std::string& path) {
  ++counts_[static_cast<std::size_t>(call)];
  return on_call ? on_call(call, path) : SQLITE_OK;
}

void FaultVfs::opened(const std::string& path) {
  if (!path.empty() && !files_.contains(path)) files_[path].synced = content_of(path);
}

void FaultVfs::changed(const std::string& path, Change change) {
  if (!path.empty()) files_[path].since.push_back(std::move(change));
}

void FaultVfs::synced(const std::string& path) {
  Tracked& file = files_[path];
  for (const Change& change : file.since) apply_to(file.synced, change, change.bytes);
  file.since.clear();
}

void FaultVfs::write_survivors(const std::filesystem::path& folder, unsigned seed) const {
  std::mt19937 dice(seed);
  std::filesystem::create_directories(folder);
  for (const auto& [path, file] : files_) {
    std::string content = file.synced;
    for (const Change& change : file.since) {
      const auto fate = seed == 0 ? 1 : dice() % 3; // 0: written, 1: lost, 2: garbage in its sectors
      if (fate == 1) continue;
      std::string bytes = change.bytes;
      if (fate == 2)
        for (std::size_t i = dice() % sector; i < bytes.size(); i += sector) bytes[i] = static_cast<char>(dice());
      apply_to(content, change, bytes);
    }
    std::ofstream(folder / std::filesystem::path(path).filename(), std::ios::binary) << content;
  }
}
