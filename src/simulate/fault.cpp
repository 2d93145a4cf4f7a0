#include "simulate/fault.h"

namespace loftbeat::simulate {

std::string to_string(FaultKind kind) {
  switch (kind) {
    case FaultKind::count_slip: return "count-slip";
    case FaultKind::phase_slip: return "phase-slip";
    case FaultKind::hesitation: return "hesitation";
    case FaultKind::pause: return "pause";
    case FaultKind::restart: return "restart";
    case FaultKind::false_start: return "false-start";
    case FaultKind::correction: return "correction";
    case FaultKind::phrase_left_out: return "phrase-left-out";
    case FaultKind::slowing: return "slowing";
    case FaultKind::dragging: return "dragging";
    case FaultKind::off_tempo: return "off-tempo";
    case FaultKind::cold: return "cold";
    case FaultKind::late_feet: return "late-feet";
    case FaultKind::late_left: return "late-left";
    case FaultKind::smear: return "smear";
    case FaultKind::ragged_release: return "ragged-release";
    case FaultKind::repeats_unstruck: return "repeats-unstruck";
    case FaultKind::timid: return "timid";
    case FaultKind::sustained: return "sustained";
    case FaultKind::extra_pass: return "extra-pass";
    case FaultKind::missing_pass: return "missing-pass";
    case FaultKind::unwritten_interlude: return "unwritten-interlude";
  }
  return "fault";
}

}  // namespace loftbeat::simulate
