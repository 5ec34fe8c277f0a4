// The verbs of the program. Each is declared by its own file; a new one gets two lines here.
#include "cli/verb.hpp"

namespace portweigh::cli {

Verb rank_verb();
Verb block_verb();
Verb check_verb();
Verb list_verb();
Verb explain_verb();
Verb sweep_verb();
Verb crossover_verb();
Verb sensitivity_verb();
Verb report_verb();
Verb compare_verb();
Verb family_verb();
Verb break_even_verb();
Verb calibrate_verb();

std::vector<Verb> verbs() {
  return {rank_verb(),   block_verb(),      check_verb(),       list_verb(),   explain_verb(),
          sweep_verb(),  crossover_verb(),  sensitivity_verb(), report_verb(), compare_verb(),
          family_verb(), break_even_verb(), calibrate_verb()};
}

}  // namespace portweigh::cli
