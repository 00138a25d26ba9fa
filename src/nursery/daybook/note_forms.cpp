#include <array>

#include "nursery/daybook/note.hpp"

namespace strikebed::nursery {

using namespace daybook;

std::span<const NoteForm> note_forms() {
  static const std::array<NoteForm, 30> forms{{
      {"goal", GoalSet{}, "", "a goal, as its file stands today", "goal my-goal.toml autumn"},
      {"plan", PlanChosen{}, "seeds", "the plan that is followed from now on",
       "plan autumn 420 assurance 0.9 sowing 2027-02-21 420 session 2027-06-05 48"},
      {"forecast", ForecastGiven{}, "wanted", "what was foretold, to be scored later",
       "forecast autumn counted-on 2027-10-01 wanted 60 assurance 0.82 plants-p50 71"},
      {"lot", LotReceived{}, "seeds", "seeds of one origin and year came",
       "lot \"ridge 2026\" pinus-thunbergii 800 seeds year 2026"},
      {"test", LotTested{}, "good", "a germination test of a lot", "test \"ridge 2026\" 41 of 50 days 21"},
      {"bottle", StockReceived{}, "", "a bottle or a bag came",
       "bottle solution \"IBA/NAA concentrate\" volume 250 ml use-by 2028-06-01"},
      {"mix", Mixed{}, "", "a solution, medium, feed or disinfectant was made",
       "mix solution \"dip 1000\" volume 100 ml auxin 1000 ppm used \"IBA/NAA concentrate\" 10 ml"},
      {"left", StockCounted{}, "seeds", "what is left of a lot or a bottle", "left \"dip 1000\" volume 40 ml"},
      {"start", BatchStarted{}, "number", "a batch begins", "start lot \"ridge 2026\" 200 label \"north tray\""},
      {"split", BatchStarted{}, "number", "a part of a batch goes its own way", "split K427T 40"},
      {"pool", BatchStarted{}, "", "batches become one", "pool K427T K4289"},
      {"chill", Chilled{}, "days", "put into the cold, moist", "chill lot \"ridge 2026\" 200 days 45"},
      {"sow", Sown{}, "number", "sown", "sow K427T depth 6 mm bench tray"},
      {"count", Counted{}, "", "a count: emerged, by sign, alive, rooted", "count K427T emerged 41 of 50"},
      {"lost", Lost{}, "number", "so many died, and why", "lost K427T 2 dried"},
      {"strike", Struck{}, "struck", "one group was struck at the bench",
       "strike K427T 6 offered 8 rejected 1 soak 60 s"},
      {"recut", Recut{}, "number", "cut and dipped again", "recut K427T 4 soak 60 s"},
      {"control", ControlSetAside{}, "number", "so many are a control", "control K427T 6 without auxin"},
      {"give", HandedOver{}, "number", "given away", "give K427T 3 to Ann"},
      {"sell", HandedOver{}, "number", "sold", "sell K427T 10"},
      {"move", Moved{}, "", "a batch stands on another bench now", "move K427T tunnel"},
      {"feed", Fed{}, "", "a batch or a bench was fed", "feed K427T volume 500 ml ec 0.8"},
      {"mist", MistingChanged{}, "", "how often mist comes; nothing: not at all",
       "mist bench tunnel every 30 min burst 8 s"},
      {"wean", WeaningStep{}, "", "a step from shade and mist to sun and open air", "wean K427T less-mist"},
      {"pot", Potted{}, "number", "set into containers", "pot K427T 24 volume 300 ml"},
      {"grade", Graded{}, "fit", "how the roots stand", "grade K427T radial 17 of 20 gap 80 roots 7"},
      {"measure", Measured{}, "", "temperatures, humidity, light", "measure K427T air 24 C humidity 85 %"},
      {"photo", PhotoAttached{}, "", "a picture", "photo K427T tray.jpg"},
      {"remark", Remark{}, "", "words", "remark K427T pale needles on the north side"},
      {"withdraw", Withdrawn{}, "", "an entry was a mistake", "withdraw #3f0c9f6c why wrong tray"},
  }};
  return forms;
}

}  // namespace strikebed::nursery
