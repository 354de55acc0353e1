#include "desktop/window.h"

#include "bench/fonts.h"
#include "bench/keys.h"
#include "bench/theme.h"
#include "bench/typing_gauge.h"

#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

namespace desktop {

namespace {

// The longest time that one frame counts for: after a long sleep a key just pressed does not seem held for all of it.
constexpr float longest_frame = 0.1F; // s

// The screens know the keys by these numbers.
namespace key = bench::key;
static_assert(key::escape == GLFW_KEY_ESCAPE && key::enter == GLFW_KEY_ENTER && key::tab == GLFW_KEY_TAB);
static_assert(key::backspace == GLFW_KEY_BACKSPACE && key::insert == GLFW_KEY_INSERT);
static_assert(key::remove == GLFW_KEY_DELETE && key::right == GLFW_KEY_RIGHT && key::left == GLFW_KEY_LEFT);
static_assert(key::down == GLFW_KEY_DOWN && key::up == GLFW_KEY_UP && key::page_up == GLFW_KEY_PAGE_UP);
static_assert(key::page_down == GLFW_KEY_PAGE_DOWN && key::home == GLFW_KEY_HOME && key::end == GLFW_KEY_END);
static_assert(key::keypad_enter == GLFW_KEY_KP_ENTER && key::digit_0 == GLFW_KEY_0 && key::letter_a == GLFW_KEY_A &&
              key::letter_c == GLFW_KEY_C && key::letter_n == GLFW_KEY_N && key::keypad_0 == GLFW_KEY_KP_0);
static_assert(key::f1 == GLFW_KEY_F1 && key::f12 == GLFW_KEY_F12);
static_assert(key::left_shift == GLFW_KEY_LEFT_SHIFT && key::right_shift == GLFW_KEY_RIGHT_SHIFT);

// In GLFW's words, for whoever looks after the machine.
std::string reason() {
  const char* text = nullptr;
  glfwGetError(&text);
  return text == nullptr ? "no reason given" : text;
}

constexpr std::string_view without_window =
    "the window cannot be opened: {} ({}); the command line works without one, see witnessmark --help";

Error no_display() {
  return {"no-display", fmt::format(without_window, "there is no display", reason())};
}

Error no_opengl() {
  return {"no-opengl", fmt::format(without_window, "this display has no OpenGL 3.3", reason())};
}

// The part of the first monitor that a window can have; nothing when there is no monitor.
std::optional<Size> room() {
  GLFWmonitor* monitor = glfwGetPrimaryMonitor();
  if (monitor == nullptr) return std::nullopt;
  Size size;
  glfwGetMonitorWorkarea(monitor, nullptr, nullptr, &size.width, &size.height);
  return size.width > 0 && size.height > 0 ? std::optional(size) : std::nullopt;
}

float scale_of_display() {
  float across = 1;
  float down = 1;
  if (GLFWmonitor* monitor = glfwGetPrimaryMonitor()) glfwGetMonitorContentScale(monitor, &across, &down);
  return across;
}

Size scaled(Size size, float scale) {
  const auto times = [scale](int side) { return static_cast<int>(static_cast<float>(side) * scale); };
  const Size whole{times(size.width), times(size.height)};
  const auto most = room();
  return most ? Size{std::min(whole.width, most->width), std::min(whole.height, most->height)} : whole;
}

} // namespace

double seconds() {
  return glfwGetTime();
}

Result<std::unique_ptr<Pane>> Pane::open(const Options& options) {
  std::unique_ptr<Pane> pane(new Pane);
  if (const auto opened = pane->open_window(options); !opened) return opened.error();
  if (const auto started = pane->start_drawing(); !started) return started.error();
  pane->listen();
  return pane;
}

// On X11 a window's size is in pixels, whatever the display's scale. It is opened in its size: one that is not shown is
// drawn in the size it was opened with.
Result<void> Pane::open_window(const Options& options) {
  library_ = glfwInit() == GLFW_TRUE;
  if (!library_) return no_display();
  scale_ = std::clamp(options.scale.value_or(scale_of_display()), smallest_scale, largest_scale);
  const Size least = scaled(smallest, scale_);
  const Size size = options.size.value_or(scaled(usual, scale_));
  glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
  glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 3);
  glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
  glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
  glfwWindowHint(GLFW_VISIBLE, GLFW_FALSE);
  glfwWindowHintString(GLFW_X11_CLASS_NAME, "witnessmark");
  glfwWindowHintString(GLFW_X11_INSTANCE_NAME, "witnessmark");
  window_ = glfwCreateWindow(size.width, size.height, "Witnessmark", nullptr, nullptr);
  if (window_ == nullptr) return no_opengl();
  glfwSetWindowSizeLimits(window_, std::min(least.width, size.width), std::min(least.height, size.height),
                          GLFW_DONT_CARE, GLFW_DONT_CARE);
  glfwSetWindowUserPointer(window_, this);
  glfwMakeContextCurrent(window_);
  glfwSwapInterval(1);
  return {};
}

Result<void> Pane::start_drawing() {
  IMGUI_CHECKVERSION();
  ImGui::CreateContext();
  context_ = true;
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  io.LogFilename = nullptr;
  io.ConfigInputTextCursorBlink = false; // a blinking cursor is the only thing that would draw without an event
  platform_ = ImGui_ImplGlfw_InitForOpenGL(window_, true);
  renderer_ = platform_ && ImGui_ImplOpenGL3_Init("#version 150");
  if (!renderer_) return no_opengl();
  const std::string missing = bench::load_fonts(scale_);
  if (!missing.empty()) return Error{"no-font", missing};
  bench::apply_style(scale_);
  return {};
}

Pane& Pane::of(GLFWwindow* window) {
  return *static_cast<Pane*>(glfwGetWindowUserPointer(window));
}

// Everything that happens asks for frames. What Dear ImGui listens to goes on to it, keys and characters by the queue.
void Pane::listen() {
  glfwSetKeyCallback(window_, [](GLFWwindow* window, int number, int scancode, int action, int modifiers) {
    of(window).stirred_ = true;
    if (action == GLFW_REPEAT) return;
    const auto kind = action == GLFW_PRESS ? Stroke::Kind::press : Stroke::Kind::release;
    of(window).keys_.add(
        {.kind = kind, .key = number, .scancode = scancode, .modifiers = modifiers, .time = seconds()});
  });
  glfwSetCharCallback(window_, [](GLFWwindow* window, unsigned character) {
    of(window).stirred_ = true;
    of(window).keys_.add({.kind = Stroke::Kind::character, .character = character, .time = seconds()});
  });
  glfwSetMouseButtonCallback(window_, [](GLFWwindow* window, int button, int action, int modifiers) {
    of(window).stirred_ = true;
    ImGui_ImplGlfw_MouseButtonCallback(window, button, action, modifiers);
  });
  glfwSetScrollCallback(window_, [](GLFWwindow* window, double across, double down) {
    of(window).stirred_ = true;
    ImGui_ImplGlfw_ScrollCallback(window, across, down);
  });
  glfwSetWindowFocusCallback(window_, [](GLFWwindow* window, int focused) {
    of(window).stirred_ = true;
    ImGui_ImplGlfw_WindowFocusCallback(window, focused);
  });
  glfwSetCursorEnterCallback(window_, [](GLFWwindow* window, int entered) {
    of(window).stirred_ = true;
    ImGui_ImplGlfw_CursorEnterCallback(window, entered);
  });
  glfwSetCursorPosCallback(window_, [](GLFWwindow* window, double, double) { of(window).stirred_ = true; });
  glfwSetFramebufferSizeCallback(window_, [](GLFWwindow* window, int, int) { of(window).stirred_ = true; });
  glfwSetDropCallback(window_, [](GLFWwindow* window, int count, const char** paths) {
    of(window).stirred_ = true;
    of(window).dropped_.insert(of(window).dropped_.end(), paths, paths + count);
  });
  glfwSetWindowRefreshCallback(window_, [](GLFWwindow* window) { of(window).stirred_ = true; });
  glfwSetWindowIconifyCallback(window_, [](GLFWwindow* window, int) { of(window).stirred_ = true; });
}

Pane::~Pane() {
  if (renderer_) ImGui_ImplOpenGL3_Shutdown();
  if (platform_) ImGui_ImplGlfw_Shutdown();
  if (context_) ImGui::DestroyContext();
  if (window_ != nullptr) glfwDestroyWindow(window_);
  if (library_) glfwTerminate();
}

void Pane::put_on(const bench::Look& look) const {
  const Size size = pixels();
  const float scale = bench::scale_for(look, scale_, static_cast<float>(size.width), static_cast<float>(size.height));
  if (!bench::put_on(look, scale)) return;
  ImGui_ImplOpenGL3_DestroyFontsTexture();
  ImGui_ImplOpenGL3_CreateFontsTexture();
}

void Pane::show() {
  glfwShowWindow(window_);
}

bool Pane::closing() const {
  return glfwWindowShouldClose(window_) == GLFW_TRUE;
}

bool Pane::hidden() const {
  return glfwGetWindowAttrib(window_, GLFW_ICONIFIED) == GLFW_TRUE;
}

void Pane::wait(double seconds) {
  glfwWaitEventsTimeout(seconds);
}

void Pane::poll() {
  glfwPollEvents();
}

void Pane::wake() {
  stirred_ = true;
  glfwPostEmptyEvent();
}

void Pane::draw(bool ready, const std::function<void()>& screens) {
  bench::say_typed_at_once(false);
  keys_.feed(ready, [this](const Stroke& stroke) {
    if (stroke.at_once) bench::say_typed_at_once(true);
    if (stroke.kind == Stroke::Kind::character) return ImGui_ImplGlfw_CharCallback(window_, stroke.character);
    const int action = stroke.kind == Stroke::Kind::press ? GLFW_PRESS : GLFW_RELEASE;
    ImGui_ImplGlfw_KeyCallback(window_, stroke.key, stroke.scancode, action, stroke.modifiers);
  });
  ImGui_ImplOpenGL3_NewFrame();
  ImGui_ImplGlfw_NewFrame();
  ImGuiIO& io = ImGui::GetIO();
  io.DeltaTime = std::min(io.DeltaTime, longest_frame);
  ImGui::NewFrame();
  screens();
  ImGui::Render();
  const Size size = pixels();
  glViewport(0, 0, size.width, size.height);
  const ImVec4 bench = ImGui::ColorConvertU32ToFloat4(bench::theme().bench); // of which the screens draw nothing
  glClearColor(bench.x, bench.y, bench.z, 1);
  glClear(GL_COLOR_BUFFER_BIT);
  ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
}

void Pane::present() {
  glfwSwapBuffers(window_);
}

Size Pane::pixels() const {
  Size size;
  glfwGetFramebufferSize(window_, &size.width, &size.height);
  return size;
}

} // namespace desktop
