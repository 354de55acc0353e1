// Remarks as lines, and what the warnings mean.
#include "procedure/reader.h"

#include "json/fields.h"

#include <fmt/format.h>

#include <array>

namespace procedure {

namespace {

struct Explanation {
  std::string_view code;
  std::string_view text;
};

constexpr std::array explanations = {
    Explanation{"W01", "A limit that no entry, stage or calculation names judges nothing. Name it where it belongs, or "
                       "take it out."},
    Explanation{"W02", "An option on which no limit, step, entry or calculation depends changes nothing, whatever is "
                       "picked. Add the \"when\" it was meant for, or take it out."},
    Explanation{"W03", "A part that no step fits and no entry names: a finding on it would hold up no step. Name it "
                       "under \"fits\" of the step that it goes in with, or among the \"parts\" of an entry."},
    Explanation{"W04",
                "A limit of basis \"none\" is recorded, never judged, so its numbers are only shown. If they are "
                "to judge, say where they come from with another basis."},
    Explanation{"W05", "Service bounds hold for reused parts. The entry names no \"parts\" whose state could be "
                       "reused, so it is always judged by the standard bounds. Add \"parts\", or \"judged-by\"."},
    Explanation{"W06", "The first case whose conditions hold counts. An earlier case holds whenever this one does, so "
                       "its numbers are never used. Change the order, or take it out."},
    Explanation{"W07", "The entry that is calculated must be filled before the step can be signed, and it needs a "
                       "reading that may be left empty. Make both optional, or neither."},
    Explanation{"W08",
                "A section that may be left open at release would hold up a step that may not. Move the step, or "
                "make its section deferrable too."},
    Explanation{
        "W09", "Tightened by torque alone, bolts scatter by a quarter and more about the preload reckoned, so one near "
               "proof may be past it. Likely a class, thread or lubrication that is not this bolt's, a torque for dry "
               "threads on oiled ones, or the wrong unit. Look the bolt up again; if the maker means it so, leave it."},
    Explanation{"W10",
                "A bolt that holds the engine together and is pulled this little lets the joint move and works loose. "
                "Likely the torque of a first stage or of another bolt, a stage left out, the wrong unit, or a cover "
                "marked \"structural\". Look the torque up again, or take \"structural\" out."},
    Explanation{"W11", "A torque below the one before it turns nothing. Likely two stages or two limits changed over, "
                       "or a \"loosen\" stage left out between them."},
    Explanation{"W12", "No bolt of this thread and class is meant to be pulled that far, or is tightened that little. "
                       "Likely the number of another unit (lbf.ft, lbf.in, kgf.m), a decimal point one place off, a "
                       "conversion done twice, or a wrong thread. Compare number, unit and bolt with the manual."},
    Explanation{"W13", "So small a turn is lost in the play of the wrench, and so large a one is more than a bolt "
                       "stands. Likely radians or parts of a turn in the place of degrees, or the sum of all stages "
                       "written where one stage is meant."},
    Explanation{"W14", "Bolts for one use are spent by the first tightening, a trial too, and the bench asks for new "
                       "ones before the second. Do the trial with old bolts as an entry of its own, or correct "
                       "\"uses\"; if the bolts stay tight in between, say \"retorque\"."},
    Explanation{"W15", "A fault holds up the steps that fit its part. None does here, so it would be written down and "
                       "the engine built all the same. Name the part under \"fits\" of the step that it goes in "
                       "with, at every position, or call the finding slight."},
    Explanation{"W16",
                "Of a part used up by fitting it, or with a last day of use, the steps that fit it ask which one "
                "was taken. None does here. Name the part under \"fits\" of the step that it goes in with."},
    Explanation{"W17",
                "Gas that comes through one gap goes straight on to the next when that lies close behind it. The "
                "gaps of neighbouring rings are set 60 degrees apart at least, those of the parts of one oil ring "
                "30 (common practice, no source). If the maker's text says so, accept it with that reason."},
    Explanation{"W18", "Over the pin the bore is swept least evenly, and on the thrust side the piston presses a gap "
                       "against the wall; most makers keep gaps away from both, 15 degrees and 30 (common practice, no "
                       "source). If this maker's text says so, accept it with that reason."},
    Explanation{"W20", "A clearance is what is left between two sizes, so its limits follow from theirs, but for the "
                       "choice of parts that fit one another. These are further apart than both tolerances together. "
                       "Look all three up again: number, unit, and which column they were read from."},
    Explanation{"W21", "What is limited has a usual span, by itself or as a part of the size it belongs to: a ring gap "
                       "for its bore, a clearance for its journal, an end play. This number is far outside it. Likely "
                       "a decimal point one place off, an inch number taken for mm, or a conversion done twice."},
    Explanation{"W22", "Two bounds of one limit this far apart hardly come from one line of the manual. Likely a digit "
                       "or a unit has slipped in one of them."},
    Explanation{"W23", "A gauge that shows no more than half of what lies between the bounds cannot say on which side "
                       "a reading is. Name a finer kind of gauge, or look the limit up again."},
    Explanation{"W24", "Under an oversize or undersize the limits of a size move by just that, and those of a shell's "
                       "wall by half. These move by something else, or not at all. Likely a slip of a digit, or the "
                       "standard numbers copied."},
    Explanation{"W25", "The manual prints one number in two units, and these two are not the same number. One of them "
                       "was copied wrongly, or is a misprint: look which one goes with the other limits."},
    Explanation{"W26", "Parts of one kind that are chosen among lie close together in size. One that is five times "
                       "another has slipped by a digit."},
    Explanation{"W27", "Grades must follow on one another and cover what is allowed, else a reading in between has no "
                       "grade, or two."},
    Explanation{"W28", "The camshaft of a four-stroke engine turns once for two turns of the crank, so its gear has "
                       "twice the teeth, whatever idlers are in between. Count again."},
    Explanation{"W29", "Work of this kind has hurt people, and the step says nothing of it. Write the caution, or put "
                       "down why none is needed."},
    Explanation{"W30", "Each step waits for the one before it, so one part away at the machine shop holds up all of "
                       "them. Name under \"after\" only what must really be done before."},
    Explanation{"W31", "The warning that was accepted here is gone, most likely because the number was put right. "
                       "Take the line out, so that it does not hide the next slip."},
    Explanation{"W32", "A fault on the part would hold up the step that fits it until the proof is good, and the proof "
                       "waits for that step: neither could ever be done. Take a proof that is filled in before, or "
                       "make it a loose entry that may be measured ahead."},
    Explanation{"W33",
                "The numbers were copied from the manual twice, and the two copies are not the same: one slipped, "
                "or one was changed later. Look in the manual which is right, enter that one again, or check "
                "again; until both agree the numbers count as not checked."},
};

// A file with hidden characters is told of them, but they must not reach the terminal.
std::string printable(std::string text) {
  if (!json::has_hidden_characters(text)) return text;
  for (char& c : text)
    if (c < ' ' || c > '~') c = '?';
  return text;
}

} // namespace

std::string line_of(const Remark& remark, std::string_view file) {
  const json::Fault& fault = remark.fault;
  const bool is_error = remark.severity == Severity::error;
  const std::string kind = is_error ? "error: " : fmt::format("warning: {} ", remark.code);
  const std::string where = fault.pointer.empty() ? "" : fmt::format(" ({})", fault.pointer);
  return fmt::format("{}:{}:{}: {}{}", file, fault.place.line, fault.place.column, kind,
                     printable(fault.message + where));
}

std::string_view explain(std::string_view code) {
  for (const Explanation& one : explanations)
    if (one.code == code) return one.text;
  return "";
}

} // namespace procedure
