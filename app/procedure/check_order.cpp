// A step rests on the steps it comes after and on those its calculated entries take readings from. That must not go
// round in a circle, nor may the calculated entries of one step.
#include "procedure/check.h"

#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <unordered_map>

namespace procedure {

namespace {

struct Edge {
  std::size_t to = 0;
  std::string pointer;
};
using Graph = std::vector<std::vector<Edge>>;

struct Circle {
  std::vector<std::size_t> nodes; // the first of them, along the edges
  std::size_t length = 0;
  const Edge& closing;
};
constexpr std::size_t most_nodes_told = 8;

// Depth first, without recursion: a procedure may be one chain of many thousand steps. One circle is told for every
// edge that closes one.
class CircleSearch {
public:
  CircleSearch(const Graph& graph, std::function<void(const Circle&)> tell)
      : graph_(graph), tell_(std::move(tell)), depths_(graph.size(), fresh) {}

  void search() {
    for (std::size_t start = 0; start < graph_.size(); ++start) {
      if (depths_[start] == fresh) enter(start);
      while (!path_.empty()) go_on();
    }
  }

private:
  struct Visit {
    std::size_t node;
    std::size_t next_edge;
  };
  static constexpr std::size_t fresh = std::size_t(-1);
  static constexpr std::size_t done = std::size_t(-2);

  void enter(std::size_t node) {
    depths_[node] = path_.size();
    path_.push_back({node, 0});
  }

  void go_on() {
    Visit& top = path_.back();
    if (top.next_edge == graph_[top.node].size()) {
      depths_[top.node] = done;
      path_.pop_back();
      return;
    }
    const Edge& edge = graph_[top.node][top.next_edge++];
    if (depths_[edge.to] == fresh) {
      enter(edge.to);
    } else if (depths_[edge.to] != done) {
      tell(edge);
    }
  }

  void tell(const Edge& closing) {
    const std::size_t start = depths_[closing.to];
    Circle circle{{}, path_.size() - start, closing};
    for (std::size_t i = start; i < path_.size() && circle.nodes.size() < most_nodes_told; ++i)
      circle.nodes.push_back(path_[i].node);
    tell_(circle);
  }

  const Graph& graph_;
  std::function<void(const Circle&)> tell_;
  std::vector<std::size_t> depths_; // in the path, or fresh, or done
  std::vector<Visit> path_;
};

std::string chain(const Circle& circle, const std::function<const std::string&(std::size_t)>& id_of) {
  std::string text;
  for (const std::size_t node : circle.nodes) text += fmt::format("{} on ", json::shown(id_of(node)));
  if (circle.length > circle.nodes.size()) text += fmt::format("{} more on ", circle.length - circle.nodes.size());
  return text + json::shown(id_of(circle.nodes.front()));
}

void check_steps(const Index& index, Notes& notes) {
  const auto steps = index.procedure().steps();
  std::unordered_map<std::string_view, std::size_t> numbers;
  for (std::size_t i = 0; i < steps.size(); ++i) numbers.emplace(steps[i]->id, i);
  Graph graph(steps.size());
  const auto add = [&](std::string_view from, std::string_view to, std::string pointer) {
    const auto found = numbers.find(to);
    if (found != numbers.end()) graph[numbers.at(from)].push_back({found->second, std::move(pointer)});
  };
  index.each_step([&](const Section&, const Step& step, const std::string& pointer) {
    for (std::size_t i = 0; i < step.after.size(); ++i)
      add(step.id, step.after[i], fmt::format("{}/after/{}", pointer, i));
  });
  index.each_entry([&](const EntryView& at) {
    for (const auto& [name, source] : at.entry.inputs) {
      const auto* from = std::get_if<FromEntry>(&source);
      if (from && !from->as_found && from->step != at.step.id)
        add(at.step.id, from->step, at.pointer + "/inputs/" + json::pointer_token(name));
    }
  });
  const auto id_of = [&](std::size_t node) -> const std::string& { return steps[node]->id; };
  CircleSearch(graph, [&](const Circle& circle) {
    notes.error(circle.closing.pointer, fmt::format("steps rest on one another in a circle: {}", chain(circle, id_of)));
  }).search();
}

void check_entries_of_step(const Step& step, const std::string& pointer, Notes& notes) {
  if (std::ranges::all_of(step.entries, [](const Entry& entry) { return entry.inputs.empty(); })) return;
  std::map<std::string_view, std::size_t> numbers;
  for (std::size_t e = 0; e < step.entries.size(); ++e) numbers.emplace(step.entries[e].id, e);
  Graph graph(step.entries.size());
  for (std::size_t e = 0; e < step.entries.size(); ++e)
    for (const auto& [name, source] : step.entries[e].inputs) {
      const auto* from = std::get_if<FromEntry>(&source);
      if (!from || from->step != step.id || !numbers.contains(from->entry)) continue;
      graph[e].push_back(
          {numbers.at(from->entry), fmt::format("{}/entries/{}/inputs/{}", pointer, e, json::pointer_token(name))});
    }
  const auto id_of = [&](std::size_t node) -> const std::string& { return step.entries[node].id; };
  CircleSearch(graph, [&](const Circle& circle) {
    notes.error(circle.closing.pointer, fmt::format("step {}: entries are calculated from one another in a circle: {}",
                                                    json::shown(step.id), chain(circle, id_of)));
  }).search();
}

} // namespace

void check_order(const Index& index, Notes& notes) {
  check_steps(index, notes);
  index.each_step([&](const Section&, const Step& step, const std::string& pointer) {
    check_entries_of_step(step, pointer, notes);
  });
}

} // namespace procedure
