// The keys the screens know, by the numbers the window's key events carry (desktop/ checks that they are the same).
#pragma once

namespace bench::key {

constexpr int escape = 256;
constexpr int enter = 257;
constexpr int tab = 258;
constexpr int backspace = 259;
constexpr int insert = 260;
constexpr int remove = 261;
constexpr int right = 262;
constexpr int left = 263;
constexpr int down = 264;
constexpr int up = 265;
constexpr int page_up = 266;
constexpr int page_down = 267;
constexpr int home = 268;
constexpr int end = 269;
constexpr int keypad_enter = 335;
constexpr int digit_0 = 48;
constexpr int letter_a = 65;
constexpr int letter_c = 67;
constexpr int letter_n = 78;
constexpr int keypad_0 = 320;
constexpr int f1 = 290; // to f12 = 301
constexpr int left_shift = 340;
constexpr int right_shift = 344;
constexpr int f9 = f1 + 8;
constexpr int f12 = f1 + 11;

} // namespace bench::key
