// fontconfig keeps the fonts it has found for as long as the program runs; the leak checker takes that for a leak.
#pragma once

extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions() {
  return "leak:libfontconfig";
}
