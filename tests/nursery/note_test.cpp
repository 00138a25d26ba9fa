// Notes as they are typed: what becomes of them, and what is refused.
#include "nursery/daybook/note.hpp"

#include <gtest/gtest.h>

#include <set>
#include <string>
#include <variant>

#include "base/random.hpp"
#include "daybook/entry_json.hpp"
#include "nursery/daybook/batches.hpp"

namespace strikebed::nursery {
namespace {

using namespace daybook;

std::vector<std::string> split_words(const std::string& text) {
  std::vector<std::string> words;
  std::string word;
  bool quoted = false;
  for (const char c : text + " ") {
    if (c == '"') {
      quoted = !quoted;
    } else if (c == ' ' && !quoted) {
      if (!word.empty()) words.push_back(std::move(word));
      word.clear();
    } else {
      word += c;
    }
  }
  return words;
}

/// A daybook kept on one device, on a clock two hours ahead of UTC that stands at noon of a Saturday.
class Bench {
 public:
  Bench() {
    means_.now = means_.written = clock(make_date(2027, 6, 5), 720);
    means_.wall_clock = clock;
    means_.random_bits = [this] { return mixed_bits(++drawn_); };
    means_.read_file = [](const std::string& path) -> Result<std::string> {
      if (path.ends_with(".png")) return std::string("\x89PNG\r\n\x1a\n and more");
      if (path.ends_with(".toml")) return std::string("by = 2027-10-01\n");
      return Error{.problem = "there is no such file", .file = path};
    };
  }
  static Moment clock(Date day, int minute) {
    constexpr std::int64_t kMsInMinute = 60'000;
    return {(day.time_since_epoch().count() * 1440LL + minute - 120) * kMsInMinute, 120};
  }

  Result<Noted> try_note(const std::string& words) {
    NoteRequest request;
    request.words = split_words(words);
    request.device = device;
    request.anyway = anyway;
    return nursery::note(request, means_, fold);
  }
  /// Notes it; the last entry that came of it.
  Entry note(const std::string& words) {
    auto noted = try_note(words);
    EXPECT_TRUE(noted.ok()) << words << ": " << noted.error().message();
    if (!noted.ok()) return {};
    fold.add(noted->entries);
    means_.now.ms = means_.written.ms += 60'000;
    return noted->entries.back();
  }
  template <class B>
  B noted(const std::string& words) {
    return std::get<B>(note(words).body);
  }
  Error refused(const std::string& words) {
    auto noted = try_note(words);
    EXPECT_FALSE(noted.ok()) << words;
    return noted.ok() ? Error{} : noted.error();
  }
  void undo(const std::string& words = "") {
    NoteRequest request;
    request.words = split_words(words);
    request.device = device;
    auto undone = nursery::undo(request, means_, fold);
    ASSERT_TRUE(undone.ok()) << undone.error().message();
    fold.add(undone->entries);
    means_.now.ms = means_.written.ms += 60'000;
  }
  /// The code of the batch that came last.
  std::string code() {
    const Batch* last = nullptr;
    for (const auto& [id, batch] : fold.state().batches) {
      const auto written = [&](const Batch& one) { return fold.find(one.id)->written.ms; };
      if (!last || written(batch) >= written(*last)) last = &batch;
    }
    return last ? last->code : "";
  }
  const Batch& batch(const std::string& named) {
    for (const auto& [id, one] : fold.state().batches) {
      if (one.code == named) return one;
    }
    ADD_FAILURE() << named;
    return fold.state().batches.begin()->second;
  }
  /// A lot and 200 seeds of it, sown: their code.
  std::string sown() {
    note("lot ridge pinus-thunbergii 800 seeds on 2027-03-01");
    note("sow lot ridge 200 on 2027-04-01");
    return code();
  }

  Fold fold;
  std::string device = "phone";
  bool anyway = false;

 private:
  NoteMeans means_;
  std::uint64_t drawn_ = 0;
};

// Every kind of entry can be typed, and as its example shows.
TEST(Note, EveryKindIsTypedAsItsExampleShows) {
  Bench bench;
  bench.note("goal autumn.toml autumn");
  bench.note("lot \"ridge 2026\" pinus-thunbergii 800 seeds");
  bench.note("bottle solution \"IBA/NAA concentrate\" volume 250 ml");
  bench.note("mix solution \"dip 1000\" volume 100 ml");
  const std::string mistake = to_text(bench.note("remark a mistake").id);
  bench.note("start lot \"ridge 2026\" 100");
  const std::string first = bench.code();
  bench.note("start lot \"ridge 2026\" 100");
  const std::string second = bench.code();
  std::set<std::string_view> kinds;
  for (const NoteForm& form : note_forms()) {
    std::string example(form.example);
    const auto put = [&](std::string_view from, const std::string& to) {
      if (const auto at = example.find(from); at != std::string::npos) example.replace(at, from.size(), to);
    };
    put("K427T", first);
    put("K4289", second);
    put("#3f0c9f6c", "#" + mistake);
    put("my-goal.toml autumn", "my-goal.toml spring");
    put("tray.jpg", "tray.png");
    put("lot \"ridge 2026\" pinus", "lot \"ridge 2025\" pinus");
    put("bottle solution \"IBA/NAA", "bottle solution \"second IBA/NAA");
    put("mix solution \"dip 1000\"", "mix solution \"dip 2000\"");
    put("plants-p50 71", "plants-p05 20 plants-p25 50 plants-p50 71 plants-p75 90 plants-p95 110");
    if (form.word == "pool") bench.note("start lot \"ridge 2026\" 100"), put(first, bench.code());
    const auto noted = bench.try_note(example);
    ASSERT_TRUE(noted.ok()) << example << ": " << noted.error().message();
    EXPECT_EQ(noted->entries.back().body.index(), form.body.index()) << example;
    kinds.insert(kind_of(noted->entries.back().body));
    if (form.word != "pool" && form.word != "split") bench.fold.add(noted->entries);
  }
  EXPECT_EQ(kinds.size(), std::variant_size_v<Body> - 1) << "all but entries of a later version";
}

TEST(Note, ACountIsASampleWhereItIsOfAPart) {
  Bench bench;
  const std::string code = bench.sown();
  const Counted part = bench.noted<Counted>("count " + code + " emerged 41 of 50");
  EXPECT_EQ(part.emerged, 41);
  EXPECT_TRUE(part.sample);
  EXPECT_FALSE(bench.noted<Counted>("count " + code + " emerged 150 of 200").sample);
  EXPECT_EQ(bench.batch(code).left, 200);
  bench.note("count " + code + " green 20 turning 60 red 60 faded 2");
  EXPECT_EQ(bench.batch(code).left, 142);
  bench.note("lost " + code + " 2 dried yesterday");
  EXPECT_EQ(bench.batch(code).left, 142) << "a count is a level, and it came later";
  bench.note("lost " + code + " 2 dried");
  EXPECT_EQ(bench.batch(code).left, 140);
}

TEST(Note, GroupsOfADayGoIntoOneBatch) {
  Bench bench;
  const std::string code = bench.sown();
  const Struck first =
      bench.noted<Struck>("strike " + code + " 6 offered 8 rejected 1 waiting 1 soak 1 min stem 15 mm");
  EXPECT_EQ(first.struck, 6);
  EXPECT_EQ(first.rejected, 1);
  EXPECT_EQ(first.soak_s, 60);
  const Struck second = bench.noted<Struck>("strike " + code + " 5");
  EXPECT_EQ(first.into, second.into);
  const Struck other = bench.noted<Struck>("strike " + code + " 4 into new");
  EXPECT_NE(other.into, first.into);
  const Struck again = bench.noted<Struck>("strike " + code + " 3");
  EXPECT_EQ(again.into, other.into) << "the batch begun last";
  EXPECT_EQ(bench.fold.state().batches.at(first.into).left, 11);
  EXPECT_EQ(bench.batch(code).left, 200 - 6 - 1 - 5 - 4 - 3);
  bench.device = "tablet";
  EXPECT_NE(bench.noted<Struck>("strike " + code + " 2").into, other.into) << "of another device";
}

TEST(Note, NumbersUnitsAndOrder) {
  Bench bench;
  const std::string code = bench.sown();
  EXPECT_EQ(bench.noted<Measured>("measure " + code + " air 75.2F humidity 85 %").air_temperature_c, 24.0);
  EXPECT_EQ(bench.noted<Measured>("measure bench tunnel air -2 C").air_temperature_c, -2.0);
  EXPECT_EQ(bench.noted<MistingChanged>("mist bench tunnel every 2 h burst 8s").every_min, 120.0);
  EXPECT_EQ(bench.noted<StockReceived>("bottle solution concentrate volume 0.25 L").volume_ml, 250.0);
  const LotReceived lot = bench.noted<LotReceived>("lot north pinus-parviflora 400 seeds year 2025");
  EXPECT_EQ(lot.seeds, 400);
  EXPECT_EQ(lot.year, 2025);
  EXPECT_EQ(bench.noted<Lost>("lost " + code + " never-came-up 3").cause, LossCause::never_came_up);
  EXPECT_EQ(bench.noted<Remark>("remark " + code + " pale on Saturday").text, "pale on Saturday");
  EXPECT_FALSE(bench.note("remark all is well").batch.has_value());
  const Entry late = bench.note("lost " + code + " 1 rotted on Thursday at 9:30");
  EXPECT_EQ(to_iso(late.happened), "2027-06-03T09:30:00.000+02:00");
  EXPECT_EQ(late.typed, "lost " + code + " 1 rotted on Thursday at 9:30");
}

TEST(Note, SplitAndPoolKeepTheNumber) {
  Bench bench;
  const std::string code = bench.sown();
  bench.note("split " + code + " 40 label weak");
  const std::string part = bench.code();
  EXPECT_EQ(bench.batch(part).left, 40);
  EXPECT_EQ(bench.batch(code).left, 160);
  bench.note("pool " + code + " " + part);
  EXPECT_EQ(bench.batch(bench.code()).left, 200);
  EXPECT_EQ(bench.batch(code).left, 0);
  EXPECT_EQ(ancestors(bench.fold.state(), bench.batch(bench.code()).id).size(), 2U);
}

TEST(Note, UndoTakesTheLastNoteBackWhole) {
  Bench bench;
  const std::string code = bench.sown();
  bench.note("lost " + code + " 2 dried");
  bench.note("strike " + code + " 6");  // begins a batch, too
  EXPECT_EQ(bench.fold.state().batches.size(), 2U);
  bench.undo();
  EXPECT_EQ(bench.fold.state().batches.size(), 1U);
  EXPECT_EQ(bench.batch(code).left, 198);
  bench.undo();
  EXPECT_EQ(bench.batch(code).left, 200);
  const Entry lost = bench.note("lost " + code + " 5 eaten");
  bench.note("remark later");
  bench.undo("#" + to_text(lost.id).substr(0, 10));
  EXPECT_EQ(bench.batch(code).left, 200);
  EXPECT_TRUE(bench.fold.contradictions().empty());
}

TEST(Note, RefusesWhatCannotBe) {
  Bench bench;
  const std::string code = bench.sown();
  const std::string remark = "#" + to_text(bench.note("remark x").id);
  const std::size_t before = bench.fold.size();
  EXPECT_EQ(bench.refused("lost " + code + " 201 dried").problem, "201 taken out of " + code + ", where 200 were left");
  EXPECT_EQ(bench.refused("count " + code + " alive 300").problem, "300 counted in " + code + ", where 200 were left");
  EXPECT_TRUE(bench.refused("lost " + code + " 2 driedd").problem.find("did you mean \"dried\"?") != std::string::npos);
  EXPECT_TRUE(bench.refused("lost " + code + " 2 on 2027-06-06").problem.ends_with("is in the future"));
  EXPECT_TRUE(bench.refused("lost " + code + " 2 dried at 14:00").problem.ends_with("is in the future"));
  EXPECT_TRUE(bench.refused("cuont " + code).problem.find("did you mean \"count\"?") != std::string::npos);
  EXPECT_TRUE(bench.refused("count " + code + " emerged 5 of 4").problem.size() > 5);
  EXPECT_TRUE(bench.refused("count " + code + " emerged many").problem == "found \"many\"");
  EXPECT_EQ(bench.refused("count " + code + " emerged 4 emerged 5").problem, "it is there twice");
  EXPECT_TRUE(bench.refused("feed " + code + " volume 500 pints").problem == "found \"pints\"");
  std::string typo = code;
  typo.back() = typo.back() == '2' ? '3' : '2';
  EXPECT_EQ(bench.refused("lost " + typo + " 2").problem,
            "there is no batch \"" + typo + "\" (did you mean \"" + code + "\"?)");
  EXPECT_EQ(bench.refused("lost").problem, "which batch is missing");
  for (const char* word : {"lost ", "strike ", "pool ", "split ", "test "}) {
    EXPECT_FALSE(bench.refused(word + remark + " 2").problem.empty());
  }
  EXPECT_EQ(bench.refused("photo " + code + " no.jpg").file, "no.jpg");
  EXPECT_EQ(bench.refused("photo " + code + " goal.toml").problem, "this is no picture");
  EXPECT_EQ(bench.fold.size(), before);
  bench.anyway = true;
  bench.note("count " + code + " alive 300");
  EXPECT_EQ(bench.fold.contradictions().size(), 1U);
}

// Whatever is typed is an entry that can be read again, or a message.
TEST(Note, AnyWordsAreAnEntryOrAMessage) {
  Bench bench;
  const std::string code = bench.sown();
  std::vector<std::string> words{code,   "41",   "of",   "50",  "on",  "at",    "yesterday", "9:30",
                                 "into", "new",  "-3",   "1e9", "lot", "ridge", "dried",     "",
                                 "\xff", "from", "used", "60s", "#",   "#0000"};
  for (const NoteForm& form : note_forms()) {
    for (const std::string& word : split_words(std::string(form.example))) words.push_back(word);
  }
  int taken = 0;
  for (std::uint64_t i = 0; i < 20'000; ++i) {
    std::string typed(note_forms()[random_bits(7, i, 99) % note_forms().size()].word);
    for (std::uint64_t k = 0; k < 1 + random_bits(7, i, 98) % 7; ++k) {
      typed += " " + words[random_bits(7, i, k) % words.size()];
    }
    const auto noted = bench.try_note(typed);
    if (!noted.ok()) {
      EXPECT_FALSE(noted.error().problem.empty()) << typed;
      continue;
    }
    ++taken;
    for (const Entry& entry : noted->entries) {
      const auto again = read_entry(entry_json(entry));
      ASSERT_TRUE(again.ok()) << typed << ": " << again.error().message();
      EXPECT_EQ(*again, entry) << typed;
    }
  }
  EXPECT_GT(taken, 500);
}

TEST(Batches, AreToldWithTheirHistoryAndLineage) {
  Bench bench;
  const std::string code = bench.sown();
  bench.note("count " + code + " emerged 150 of 200");
  bench.note("strike " + code + " 6 offered 7 rejected 1");
  const std::string cuttings = bench.code();
  const auto text = batches_words(bench.fold, code, 80);
  ASSERT_TRUE(text.ok());
  EXPECT_NE(text->find("emerged 150 of 200"), std::string::npos);
  EXPECT_NE(text->find("into " + cuttings + ": cuttings from " + code + ", 6 of 6 left (6 of them)"), std::string::npos)
      << *text;
  EXPECT_NE(batches_words(bench.fold, "", 80)->find(cuttings), std::string::npos);
  EXPECT_EQ(batches_words(bench.fold, "XXXX", 80).error().problem.substr(0, 22), "there is no batch \"XXX");
  EXPECT_NE(batches_json(bench.fold, code)->find("\"history\""), std::string::npos);
}

}  // namespace
}  // namespace strikebed::nursery
