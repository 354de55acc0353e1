// How the words of a procedure are written in its file, once for reading and for writing.
#pragma once

#include "procedure/procedure.h"

#include <array>

namespace procedure {

template <typename Word>
struct Written {
  Word word;
  std::string_view text;
};

inline constexpr std::array written_bases = {
    Written<Basis>{Basis::maker, "maker"},
    Written<Basis>{Basis::standard, "standard"},
    Written<Basis>{Basis::shop, "shop"},
    Written<Basis>{Basis::none, "none"},
    Written<Basis>{Basis::invented_example, "invented example"},
    Written<Basis>{Basis::not_yet, "not yet"},
};

inline constexpr std::array written_signal_words = {
    Written<SignalWord>{SignalWord::danger, "DANGER"},
    Written<SignalWord>{SignalWord::warning, "WARNING"},
    Written<SignalWord>{SignalWord::caution, "CAUTION"},
    Written<SignalWord>{SignalWord::notice, "NOTICE"},
};

inline constexpr std::array written_entry_kinds = {
    Written<EntryKind>{EntryKind::reading, "reading"},
    Written<EntryKind>{EntryKind::readings, "readings"},
    Written<EntryKind>{EntryKind::confirm, "confirm"},
    Written<EntryKind>{EntryKind::choice, "choice"},
    Written<EntryKind>{EntryKind::tightening, "tightening"},
    Written<EntryKind>{EntryKind::identity, "identity"},
    Written<EntryKind>{EntryKind::wait, "wait"},
    Written<EntryKind>{EntryKind::photograph, "photograph"},
    Written<EntryKind>{EntryKind::calculated, "calculated"},
};

inline constexpr std::array written_taken_apart = {
    Written<TakenApart>{TakenApart::keeps, "keeps"},
    Written<TakenApart>{TakenApart::asks, "asks"},
    Written<TakenApart>{TakenApart::lost, "lost"},
};

inline constexpr std::array written_columns = {
    Written<Column>{Column::by_parts, "parts"},
    Written<Column>{Column::standard, "standard"},
    Written<Column>{Column::service, "service"},
};

inline constexpr std::array written_stage_kinds = {
    Written<StageKind>{StageKind::torque, "torque"},   Written<StageKind>{StageKind::angle, "angle"},
    Written<StageKind>{StageKind::stretch, "stretch"}, Written<StageKind>{StageKind::check, "check"},
    Written<StageKind>{StageKind::loosen, "loosen"},   Written<StageKind>{StageKind::mark, "mark"},
    Written<StageKind>{StageKind::wait, "wait"},
};

inline constexpr std::array written_bys = {
    Written<By>{By::stage, "stage"},
    Written<By>{By::fastener, "fastener"},
};

inline constexpr std::array written_beyonds = {
    Written<Beyond>{Beyond::loosen, "loosen"},
    Written<Beyond>{Beyond::replace, "replace"},
};

inline constexpr std::array written_lubrications = {
    Written<Lubrication>{Lubrication::dry, "dry"},
    Written<Lubrication>{Lubrication::oiled, "oiled"},
    Written<Lubrication>{Lubrication::paste, "paste"},
    Written<Lubrication>{Lubrication::sealant, "sealant"},
};

// Whether the order of the fasteners is the manual's, or worked out from their places.
inline constexpr std::array written_orders = {
    Written<bool>{false, "listed"},
    Written<bool>{true, "pattern"},
};

// Whether a finding is slight.
inline constexpr std::array written_severities = {
    Written<bool>{false, "fault"},
    Written<bool>{true, "slight"},
};

inline constexpr std::array written_strengths = {
    Written<std::string_view>{"8.8", "8.8"},
    Written<std::string_view>{"10.9", "10.9"},
    Written<std::string_view>{"12.9", "12.9"},
};

inline constexpr std::array written_rules = {
    Written<calc::Rule>{calc::Rule::simple, "simple"},
    Written<calc::Rule>{calc::Rule::guarded, "guarded"},
};

inline constexpr std::array written_bounds = {
    Written<std::string_view>{"low", "low"},
    Written<std::string_view>{"high", "high"},
    Written<std::string_view>{"target", "target"},
    Written<std::string_view>{"service low", "service low"},
    Written<std::string_view>{"service high", "service high"},
};

} // namespace procedure
