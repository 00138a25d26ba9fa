#include "daybook/entry_csv.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <utility>

#include "base/number.hpp"
#include "base/shown_text.hpp"
#include "daybook/entry_json.hpp"
#include "daybook/read_fields.hpp"

namespace strikebed::daybook {
namespace {

constexpr std::string_view kUnread = "unread";
constexpr std::string_view kEnvelope[] = {"v", "id", "happened", "written", "who", "device", "batch", "kind", "typed"};

using Cells = std::map<std::string, std::string, std::less<>>;

/// What a value is in the JSON.
enum class Form { text, number, yes, list };

template <class T>
constexpr Form form_of(const T*) {
  if constexpr (std::same_as<T, int> || std::same_as<T, double>) return Form::number;
  if constexpr (std::same_as<T, bool>) return Form::yes;
  return kIsList<T> ? Form::list : Form::text;
}
template <class T>
constexpr Form form_of(const std::optional<T>*) {
  return form_of(static_cast<const T*>(nullptr));
}

/// The fields of a kind, by name.
template <class B>
std::vector<std::pair<std::string_view, Form>> fields_of() {
  std::vector<std::pair<std::string_view, Form>> all;
  B body{};
  B::fields(body, [&](const Field& field, const auto& value) { all.emplace_back(field.name, form_of(&value)); });
  return all;
}

void write_cell(std::string_view cell, std::string& out) {
  if (cell.find_first_of(",\"\r\n") == std::string_view::npos) {
    out += cell;
    return;
  }
  out += '"';
  for (const char c : cell) out += c == '"' ? std::string("\"\"") : std::string(1, c);
  out += '"';
}

std::string cell_of(const Json& value) { return value.is_string() ? value.get<std::string>() : value.dump(); }

/// The cells of an entry, from its JSON, so that numbers stand in both in one way.
Cells cells_of(const Entry& entry) {
  if (const auto* unread = std::get_if<Unread>(&entry.body)) return {{std::string(kUnread), unread->json}};
  const Json json = Json::parse(entry_json(entry), nullptr, false);
  Cells cells;
  for (const auto& [key, value] : json.items()) {
    if (key != "body") cells[key] = cell_of(value);
  }
  for (const auto& [key, value] : json["body"].items()) {
    cells[key] = value.is_number_float() ? shown(value) : cell_of(value);
  }
  return cells;
}

/// A cell as the JSON that it was written from; where it is no such thing, as text, which will be refused.
Json value_of(const std::string& cell, Form form) {
  if (form == Form::number) {
    if (const auto number = parse_number(cell)) return *number;
  } else if (form == Form::yes) {
    if (cell == "true") return true;
  } else if (form == Form::list) {
    if (Json list = Json::parse(cell, nullptr, false); !list.is_discarded()) return list;
  }
  return cell;
}

/// One row on its way to an entry.
Result<Entry> entry_of(Cells cells) {
  const auto taken = [&](std::string_view name) -> std::string {
    const auto found = cells.find(name);
    return found == cells.end() ? std::string() : std::move(cells.extract(found).mapped());
  };
  if (const std::string unread = taken(kUnread); !unread.empty()) return read_entry(unread);
  Json json = Json::object();
  for (const std::string_view name : kEnvelope) {
    const std::string cell = taken(name);
    if (cell.empty()) continue;
    const auto version = name == "v" ? parse_number(cell) : std::nullopt;
    json[std::string(name)] =
        version && *version > 0 && *version < 1e9 ? Json(static_cast<unsigned>(*version)) : Json(cell);
  }
  Json body = Json::object();
  each_kind([&]<class B>() {
    if (!json.contains("kind") || json["kind"] != std::string(B::kKind)) return;
    for (const auto& [name, form] : fields_of<B>()) {
      if (const std::string cell = taken(name); !cell.empty()) body[std::string(name)] = value_of(cell, form);
    }
  });
  // What is left belongs to other kinds.
  for (const auto& [name, cell] : cells) {
    if (!cell.empty()) body[name] = cell;
  }
  json["body"] = std::move(body);
  return read_entry(json.dump(-1, ' ', false, Json::error_handler_t::replace));
}

/// Rows of cells, each with the line on which it begins.
class CsvReader {
 public:
  explicit CsvReader(std::string_view csv) : rest_(csv) {}

  [[nodiscard]] bool at_end() const { return rest_.empty(); }
  [[nodiscard]] int line() const { return line_; }

  /// Nothing where a quotation mark does not close.
  std::optional<std::vector<std::string>> row() {
    std::vector<std::string> cells;
    do {
      auto one = cell();
      if (!one) return std::nullopt;
      cells.push_back(std::move(*one));
    } while (skip(","));
    if (!skip("\r\n")) skip("\n");
    ++line_;
    return cells;
  }

 private:
  bool skip(std::string_view text) {
    if (!rest_.starts_with(text)) return false;
    rest_.remove_prefix(text.size());
    return true;
  }

  std::optional<std::string> cell() {
    if (!skip("\"")) {
      const std::size_t end = std::min(rest_.find_first_of(",\n"), rest_.size());
      std::string text(rest_.substr(0, end));
      rest_.remove_prefix(end);
      if (text.ends_with('\r') && (rest_.empty() || rest_.front() == '\n')) text.pop_back();
      return text;
    }
    std::string text;
    while (true) {
      const std::size_t end = rest_.find('"');
      if (end == std::string_view::npos) return std::nullopt;
      text += rest_.substr(0, end);
      rest_.remove_prefix(end + 1);
      if (!skip("\"")) break;
      text += '"';
    }
    line_ += static_cast<int>(std::ranges::count(text, '\n'));
    return text;
  }

  std::string_view rest_;
  int line_ = 1;
};

/// What was read so far, and all that was wrong.
struct CsvEntries {
  std::vector<Entry> entries = {};
  std::optional<Error> wrong = {};

  void fail(Error error, int line) {
    const auto placed = [&](Error one) {
      one.line = line;
      if (one.field.starts_with("body.")) one.field = one.field.substr(5);
      one.others.clear();
      wrong ? wrong->add(one) : static_cast<void>(wrong = one);
    };
    placed(error);
    for (const Error& other : error.others) placed(other);
  }
};

std::optional<Error> wrong_with(const std::vector<std::string>& names) {
  const std::vector<std::string_view> known = csv_columns();
  for (const std::string& name : names) {
    if (std::ranges::find(known, name) != known.end()) continue;
    return Error{.problem = "there is no such column" + did_you_mean(name, known),
                 .allowed = fmt::format("{}", fmt::join(known, ", ")),
                 .field = shortened(safe_text(name), kLongestShown)};
  }
  if (std::ranges::find(names, "id") != names.end()) return std::nullopt;
  return Error{.problem = "is missing", .allowed = "a column of ids", .field = "id"};
}

}  // namespace

std::vector<std::string_view> csv_columns() {
  std::vector<std::string_view> columns(std::begin(kEnvelope), std::end(kEnvelope));
  each_kind([&]<class B>() {
    for (const auto& [name, form] : fields_of<B>()) {
      if (std::ranges::find(columns, name) == columns.end()) columns.push_back(name);
    }
  });
  columns.push_back(kUnread);
  return columns;
}

std::string entries_csv(const std::vector<Entry>& entries) {
  const std::vector<std::string_view> columns = csv_columns();
  std::string csv = fmt::format("{}\n", fmt::join(columns, ","));
  for (const Entry& entry : entries) {
    const Cells cells = cells_of(entry);
    for (const std::string_view column : columns) {
      if (column != columns.front()) csv += ',';
      if (const auto cell = cells.find(column); cell != cells.end()) write_cell(cell->second, csv);
    }
    csv += '\n';
  }
  return csv;
}

Result<std::vector<Entry>> read_entries_csv(std::string_view csv) {
  CsvReader reader(csv.starts_with("\xef\xbb\xbf") ? csv.substr(3) : csv);
  CsvEntries read;
  const auto names = reader.row();
  if (!names) return Error{.problem = "a quotation mark does not close", .allowed = "names of columns", .line = 1};
  if (auto error = wrong_with(*names)) {
    error->line = 1;
    return *error;
  }
  while (!reader.at_end()) {
    const int line = reader.line();
    const auto row = reader.row();
    if (!row) {
      read.fail({.problem = "a quotation mark does not close", .allowed = "another one at the end of the cell"}, line);
      break;
    }
    if (row->size() == 1 && row->front().empty()) continue;
    if (row->size() != names->size()) {
      read.fail({.problem = fmt::format("found {} cells", row->size()), .allowed = fmt::format("{}", names->size())},
                line);
      continue;
    }
    Cells cells;
    for (std::size_t i = 0; i < row->size(); ++i) cells[(*names)[i]] = (*row)[i];
    if (auto entry = entry_of(std::move(cells))) {
      read.entries.push_back(std::move(*entry));
    } else {
      read.fail(entry.error(), line);
    }
  }
  if (read.wrong) return *read.wrong;
  return std::move(read.entries);
}

}  // namespace strikebed::daybook
