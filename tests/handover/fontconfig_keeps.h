// fontconfig keeps the fonts it has found for as long as the program runs; the leak checker takes that for a leak.
#pragma once

extern "C" const char* __lsan_default_suppressions();
extern "C" [[gnu::weak]] const char* __lsan_default_suppressions() { // weak: each file of a test may bring it
  return "leak:libfontconfig";
}
