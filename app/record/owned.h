// Owners of what C libraries hand out: Owned<sqlite3, sqlite3_close> frees with that function.
#pragma once

#include <memory>

namespace record {

template <auto Free>
struct Freeing {
  template <typename T>
  void operator()(T* pointer) const {
    Free(pointer);
  }
};

template <typename T, auto Free>
using Owned = std::unique_ptr<T, Freeing<Free>>;

} // namespace record
