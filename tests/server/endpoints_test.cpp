// Each endpoint of docs/http.md, as a client sees it.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "host/store/database.hpp"
#include "server/http.hpp"
#include "tests/server/running_service.hpp"
#include "tests/server/unpacked.hpp"

namespace strikebed::server {
namespace {

std::string message_of(const Response& response) {
  const auto json = nlohmann::json::parse(response.body, nullptr, false);
  return json.is_object() && json.contains("error") ? json["error"].value("message", "none") : "no JSON";
}
std::string digest_of(std::string_view bytes) { return daybook::to_text(daybook::sha256(bytes)); }

TEST(Files, AreThePage) {
  const RunningService server;
  struct File {
    const char* target;
    std::string body;
    const char* type;
    const char* caching;
  };
  const std::string forever = "public, max-age=31536000, immutable";
  const File files[] = {
      {"/", kIndex, "text/html; charset=utf-8", "no-cache"},
      {"/?from=home", kIndex, "text/html; charset=utf-8", "no-cache"},
      {"/index.html", kIndex, "text/html; charset=utf-8", "no-cache"},
      {"/worker.js", "self.onfetch = null;\n", "text/javascript; charset=utf-8", "no-cache"},
      {"/assets/app-3f0c.mjs", kScript, "text/javascript; charset=utf-8", forever.c_str()},
      {"/assets/engine-77.wasm", std::string("\0asm", 4) + std::string(3000, '\0'), "application/wasm",
       forever.c_str()},
      {"/pines.webmanifest", "{}", "application/manifest+json", "no-cache"},
      {"/a%20b.txt", "blank", "text/plain; charset=utf-8", "no-cache"},
  };
  Client client(server.port());
  for (const File& file : files) {
    const Response got = client.ask("GET", file.target);
    EXPECT_EQ(got.status, 200) << file.target;
    EXPECT_EQ(got.body, file.body) << file.target;
    EXPECT_EQ(got.field("content-type"), file.type) << file.target;
    EXPECT_EQ(got.field("cache-control"), file.caching) << file.target;
    const Response head = client.ask("HEAD", file.target);
    EXPECT_EQ(head.status, 200);
    EXPECT_EQ(head.field("content-length"), std::to_string(file.body.size())) << file.target;
    EXPECT_EQ(head.field("etag"), got.field("etag"));
    EXPECT_EQ(got.field("etag"), fmt::format("\"{}\"", digest_of(file.body).substr(0, 32)));
  }
}

TEST(Files, AreNotSentTwice) {
  const RunningService server;
  Client client(server.port());
  const std::string plain = client.ask("GET", "/").field("etag");
  const std::string packed = client.ask("GET", "/", "Accept-Encoding: gzip\r\n").field("etag");
  EXPECT_NE(plain, packed) << "other bytes, another strong tag";
  for (const std::string& known : {plain, "W/" + plain, "\"x\", " + plain, std::string("*")}) {
    const Response got = client.ask("GET", "/", "If-None-Match: " + known + "\r\n");
    EXPECT_EQ(got.status, 304) << known;
    EXPECT_EQ(got.field("etag"), plain);
    EXPECT_EQ(got.field("cache-control"), "no-cache");
    EXPECT_EQ(got.field("content-length"), "");
  }
  EXPECT_EQ(client.ask("GET", "/", "If-None-Match: " + packed + "\r\n").status, 200);
  EXPECT_EQ(client.ask("GET", "/", "Accept-Encoding: gzip\r\nIf-None-Match: " + packed + "\r\n").status, 304);
  EXPECT_EQ(client.ask("HEAD", "/", "If-None-Match: " + plain + "\r\n").status, 304);
}

TEST(Files, AreCompressedWhereThatIsAccepted) {
  const RunningService server;
  Client client(server.port());
  const Response got = client.ask("GET", "/assets/app-3f0c.mjs", "Accept-Encoding: br, gzip\r\n");
  EXPECT_EQ(got.field("content-encoding"), "gzip");
  EXPECT_EQ(got.field("vary"), "Accept-Encoding");
  EXPECT_LT(got.body.size(), kScript.size() / 10);
  EXPECT_EQ(unpacked(got.body), kScript);
  EXPECT_EQ(client.ask("GET", "/assets/app-3f0c.mjs").field("vary"), "Accept-Encoding");
  EXPECT_EQ(client.ask("GET", "/assets/app-3f0c.mjs", "Accept-Encoding: gzip;q=0\r\n").body, kScript);
  const Response small = client.ask("GET", "/pines.webmanifest", "Accept-Encoding: gzip\r\n");
  EXPECT_EQ(small.body, "{}") << "it would not be smaller";
  EXPECT_EQ(small.field("vary"), "");
}

TEST(Files, AreOnlyThoseOfThePage) {
  const RunningService server;
  Client client(server.port());
  for (const char* target :
       {"/beside.txt", "/../beside.txt", "/assets/../../beside.txt", "/.secret", "/.git/config", "//index.html",
        "/assets", "/assets/", "/index.html/", "/INDEX.HTML", "/./index.html", "/%2e%2e/beside.txt", "/etc/passwd"}) {
    const Response got = client.ask("GET", target);
    EXPECT_EQ(got.status, 404) << target;
    EXPECT_EQ(message_of(got), "there is nothing here") << target;
  }
  for (const char* target :
       {"/..%2fbeside.txt", "/%", "/a%00", "/..%5cbeside.txt", "http://127.0.0.1/", "beside.txt"}) {
    EXPECT_EQ(client.ask("GET", target).status, 400) << target;
  }
}

TEST(Methods, AreThoseOfThePlace) {
  const RunningService server;
  struct Case {
    const char* target;
    const char* method;
    const char* allowed;
  };
  const std::string picture = "/pictures/" + digest_of("x");
  const Case cases[] = {{"/", "POST", "GET, HEAD"},
                        {"/about", "PUT", "GET, HEAD"},
                        {"/exchange", "GET", "POST"},
                        {"/exchange", "PUT", "POST"},
                        {"/news", "HEAD", "GET"},
                        {"/news", "POST", "GET"},
                        {picture.c_str(), "POST", "GET, HEAD, PUT"},
                        {"/", "DELETE", "GET, HEAD"},
                        {"/", "BREW", "GET, HEAD"},
                        {"/", "OPTIONS", "GET, HEAD"}};
  for (const Case& one : cases) {
    const Response got = server.ask(one.method, one.target);
    EXPECT_EQ(got.status, 405) << one.method << one.target;
    EXPECT_EQ(got.field("allow"), one.allowed) << one.method << one.target;
  }
  EXPECT_EQ(server.ask("POST", "/nowhere").status, 404);
}

TEST(Answers, CarryWhatKeepsThePageSafe) {
  const RunningService server;
  Client news(server.port());
  news.send(news.request("GET", "/news"));
  for (const Response& got : {server.ask("GET", "/"), server.ask("GET", "/nowhere"), server.ask("GET", "/about"),
                              server.ask("BREW", "/"), server.answer_to("rubbish\r\n\r\n"), news.read()}) {
    EXPECT_NE(got.status, 0);
    for (const auto& [name, value] : safety_fields()) {
      EXPECT_EQ(got.field(lower(name)), value);
    }
    EXPECT_NE(got.field("date"), "");
    EXPECT_EQ(got.field("server"), "");
  }
  const std::string policy = server.ask("GET", "/").field("content-security-policy");
  EXPECT_EQ(policy.find("unsafe-inline"), std::string::npos);
}

TEST(About, SaysTheProgramAndTheEntries) {
  const RunningService server;
  const auto about = [&] { return nlohmann::json::parse(server.ask("GET", "/about").body); };
  EXPECT_EQ(about(), nlohmann::json({{"program", "strikebed"}, {"version", "1.2.3"}, {"entries", 0}}));
  EXPECT_EQ(server.ask("POST", "/exchange", "", bringing({remark(1), remark(2)})).status, 204);
  EXPECT_EQ(about()["entries"], 2);
  EXPECT_EQ(server.ask("HEAD", "/about").status, 200);
  EXPECT_EQ(server.ask("GET", "/about").field("cache-control"), "no-store");
}

TEST(Exchange, TakesInAndAnswers) {
  const RunningService server;
  Client client(server.port());
  EXPECT_EQ(client.ask("POST", "/exchange", "", daybook::message_text(daybook::opening({}))).status, 204)
      << "both hold nothing";
  EXPECT_EQ(client.ask("POST", "/exchange", "", bringing({remark(1), remark(2)})).status, 204);
  EXPECT_EQ(server.store().read_all()->size(), 2U);
  const Response got = client.ask("POST", "/exchange", "", daybook::message_text(daybook::opening({})));
  EXPECT_EQ(got.status, 200);
  EXPECT_EQ(got.field("content-type"), "text/plain; charset=utf-8");
  const auto message = daybook::read_message(got.body);
  ASSERT_TRUE(message);
  EXPECT_EQ(message->ranges.size(), 1U);
}

TEST(Exchange, RefusesWhatItCannotRead) {
  const RunningService server;
  Client client(server.port());
  for (const std::string& body :
       {std::string("x"), std::string("{}\n"), std::string("{\"v\":2,\"ranges\":[],\"wanted\":[],\"entries\":0}\n"),
        bringing({remark(1)}) + "more\n", bringing({remark(1)}).substr(0, 100), std::string(3, '\0')}) {
    const Response got = client.ask("POST", "/exchange", "", body);
    EXPECT_EQ(got.status, 400) << body;
    EXPECT_NE(message_of(got), "no JSON") << body;
  }
  EXPECT_EQ(client.ask("POST", "/exchange").status, 400) << "no body";
  EXPECT_EQ(server.store().ids()->size(), 0U);
}

TEST(Exchange, RefusesAnotherEntryUnderTheSameId) {
  RunningService server;
  Client client(server.port());
  EXPECT_EQ(client.ask("POST", "/exchange", "", bringing({remark(1)})).status, 204);
  EXPECT_EQ(client.ask("POST", "/exchange", "", bringing({remark(1)})).status, 204) << "again is harmless";
  const Response got = client.ask("POST", "/exchange", "", bringing({remark(2), remark(1, "other")}));
  EXPECT_EQ(got.status, 409);
  EXPECT_NE(message_of(got).find("another entry is there already"), std::string::npos);
  EXPECT_EQ(server.store().ids()->size(), 1U) << "all of a message or none";
  EXPECT_TRUE(server.heard().empty()) << "nothing is wrong with the daybook";
}

TEST(Daybook, ThatFailsIsToldToWhoRunsTheServer) {
  RunningService server;
  {
    auto database = host::open_sqlite(server.daybook(), host::Access::write);
    ASSERT_TRUE(database);
    ASSERT_TRUE((*database)->run("DROP TABLE daybook_entry"));
  }
  for (const Response& got :
       {server.ask("POST", "/exchange", "", bringing({remark(1)})), server.ask("GET", "/about")}) {
    EXPECT_EQ(got.status, 503);
    EXPECT_EQ(got.field("retry-after"), "10");
    EXPECT_EQ(message_of(got), "the daybook cannot be used at the moment; whoever runs the server is told why");
  }
  ASSERT_GE(server.heard().size(), 2U);
  EXPECT_TRUE(server.heard().front().starts_with(server.daybook())) << server.heard().front();
  EXPECT_EQ(server.ask("GET", "/").status, 200);
}

TEST(Pictures, AreKeptByTheirDigest) {
  const RunningService server;
  const std::string bytes = "\xff\xd8\xff" + std::string(300'000, 'p') + std::string(1, '\0');
  const std::string target = "/pictures/" + digest_of(bytes);
  Client client(server.port());
  const Response none = client.ask("GET", target);
  EXPECT_EQ(none.status, 404);
  EXPECT_EQ(message_of(none), "there is no picture with this digest");
  EXPECT_EQ(client.ask("PUT", target, "", bytes).status, 201);
  EXPECT_EQ(client.ask("PUT", target, "", bytes).status, 204);
  const Response got = client.ask("GET", target);
  EXPECT_EQ(got.status, 200);
  EXPECT_EQ(got.body, bytes);
  EXPECT_EQ(got.field("content-type"), "image/jpeg");
  EXPECT_EQ(got.field("cache-control"), "private, max-age=31536000, immutable");
  EXPECT_EQ(client.ask("HEAD", target).field("content-length"), std::to_string(bytes.size()));
  EXPECT_EQ(client.ask("GET", target, "If-None-Match: " + got.field("etag") + "\r\n").status, 304);
  EXPECT_EQ(*server.store().attachment(daybook::sha256(bytes)).value(), bytes);
}

TEST(Pictures, AreShownOnlyWhereTheyAreSome) {
  const RunningService server;
  Client client(server.port());
  const std::pair<std::string, const char*> cases[] = {{"\x89PNG\r\n\x1a\n...", "image/png"},
                                                       {"RIFF\1\2\3\4WEBPVP8 ", "image/webp"},
                                                       {std::string("\0\0\0\x1c", 4) + "ftypavif", "image/avif"},
                                                       {"<svg onload='x()'/>", "application/octet-stream"},
                                                       {"<html>", "application/octet-stream"},
                                                       {"R", "application/octet-stream"}};
  for (const auto& [bytes, type] : cases) {
    const std::string target = "/pictures/" + digest_of(bytes);
    EXPECT_EQ(client.ask("PUT", target, "", bytes).status, 201);
    EXPECT_EQ(client.ask("GET", target).field("content-type"), type) << bytes;
  }
}

TEST(Pictures, AreRefusedWhereTheirDigestIsNotTheirs) {
  const RunningService server;
  Client client(server.port());
  const std::string target = "/pictures/" + digest_of("one");
  EXPECT_EQ(client.ask("PUT", target, "", "another").status, 422);
  EXPECT_EQ(client.ask("PUT", target).status, 422) << "empty";
  EXPECT_EQ(client.ask("PUT", "/pictures/x", "", "one").status, 404);
  Client fresh(server.port());
  std::string capital = digest_of("one");
  for (char& c : capital) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  EXPECT_EQ(fresh.ask("GET", "/pictures/" + capital).status, 404);
  EXPECT_EQ(fresh.ask("GET", "/pictures/").status, 404);
  EXPECT_TRUE(server.store().attachments()->empty());
}

/// The next event that is no comment: "entries 2".
std::string next_event(Client& client) {
  std::string event;
  while (true) {
    const auto line = client.read_line();
    if (!line) return "ended";
    if (line->starts_with("event: ")) event = line->substr(7);
    if (line->starts_with("data: ")) return event + " " + line->substr(6);
  }
}

TEST(News, TellWhenTheDaybookHasGrown) {
  const RunningService server;
  Client client(server.port());
  client.send(client.request("GET", "/news"));
  const Response head = client.read();
  EXPECT_EQ(head.status, 200);
  EXPECT_EQ(head.field("content-type"), "text/event-stream; charset=utf-8");
  EXPECT_EQ(head.field("cache-control"), "no-store");
  EXPECT_EQ(next_event(client), "entries 0");
  EXPECT_EQ(server.ask("POST", "/exchange", "", bringing({remark(1), remark(2)})).status, 204);
  EXPECT_EQ(next_event(client), "entries 2");
  ASSERT_TRUE(server.store().add({remark(3)})) << "as another program does";
  EXPECT_EQ(next_event(client), "entries 3");
  EXPECT_EQ(server.ask("POST", "/exchange", "", bringing({remark(1)})).status, 204) << "it is there already";
  EXPECT_EQ(server.ask("POST", "/exchange", "", bringing({remark(4)})).status, 204);
  EXPECT_EQ(next_event(client), "entries 4");
  Client late(server.port());
  late.send(late.request("GET", "/news"));
  EXPECT_EQ(late.read().status, 200);
  EXPECT_EQ(next_event(late), "entries 4");
}

TEST(News, ShowThatTheyLive) {
  Limits limits = patient();
  limits.keep_alive = std::chrono::milliseconds(5);
  const RunningService server(limits);
  Client client(server.port());
  client.send(client.request("GET", "/news"));
  client.read();
  int comments = 0;
  while (comments < 3) {
    const auto line = client.read_line();
    ASSERT_TRUE(line);
    if (line->starts_with(':')) ++comments;
  }
}

TEST(News, GoToSoManyAndRoomIsMadeWhenOneGoes) {
  Limits limits = patient();
  limits.listeners = 2;
  const RunningService server(limits);
  auto first = std::make_unique<Client>(server.port());
  Client second(server.port());
  for (Client* client : {first.get(), &second}) {
    client->send(client->request("GET", "/news"));
    EXPECT_EQ(client->read().status, 200);
    EXPECT_EQ(next_event(*client), "entries 0");
  }
  const Response refused = server.ask("GET", "/news");
  EXPECT_EQ(refused.status, 503);
  EXPECT_EQ(refused.field("retry-after"), "60");
  first.reset();
  Response third{.status = 503};
  while (third.status == 503) {
    Client client(server.port());
    client.send(client.request("GET", "/news"));
    third = client.read();
  }
  EXPECT_EQ(third.status, 200);
}

}  // namespace
}  // namespace strikebed::server
