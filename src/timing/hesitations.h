#pragma once

#include <vector>

#include "timing/fitted_pass.h"

namespace loftbeat::timing {

// Adds the hesitations between struck beats of one line (no phrase end, held note or restart
// between them), and sorts all by place of the score. Located at the struck onset, on a beat or
// off it, before which most of the excess lies. Rules and worked number: timing/breaths.h.
void add_hesitations(const Question& question, const FittedPass& pass,
                     std::vector<Hesitation>& out);

// Every fermata of the pass with the time it really added, in beats of the pulse there. Nothing is
// known of one that ends the pass or lies where no phrase end or held note is.
[[nodiscard]] std::vector<FermataPlayed> played_fermatas(const Question& question,
                                                         const FittedPass& pass);

}  // namespace loftbeat::timing
