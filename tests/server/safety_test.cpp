// What is refused, what is limited, and who is dropped.
#include <fmt/format.h>

#include "base/random.hpp"
#include "tests/server/running_service.hpp"

namespace strikebed::server {
namespace {

using std::chrono::milliseconds;

/// A GET with just these lines behind its first.
std::string get_with(std::string_view lines) { return fmt::format("GET / HTTP/1.1\r\n{}\r\n", lines); }

TEST(Host, MustBeThisMachine) {
  const RunningService server(patient(), {"tray.example"});
  const std::uint16_t port = server.port();
  const auto status = [&](const std::string& host) {
    return server.answer_to(get_with(fmt::format("Host: {}\r\n", host))).status;
  };
  EXPECT_EQ(status(fmt::format("localhost:{}", port)), 200);
  EXPECT_EQ(status(fmt::format("127.0.0.1:{}", port)), 200);
  EXPECT_EQ(status(fmt::format("[::1]:{}", port)), 200);
  EXPECT_EQ(status("tray.example"), 200);
  EXPECT_EQ(status("tray.example:443"), 200);
  EXPECT_EQ(status("evil.example"), 421);
  EXPECT_EQ(status(fmt::format("evil.example:{}", port)), 421);
  EXPECT_EQ(status("localhost"), 421);
  EXPECT_EQ(status("localhost:1"), 421);
  EXPECT_EQ(status(""), 421);
  EXPECT_EQ(server.answer_to(get_with("")).status, 400);
  EXPECT_EQ(server.answer_to(get_with(fmt::format("Host: localhost:{0}\r\nHost: localhost:{0}\r\n", port))).status,
            400);
}

TEST(Origin, MustBeTheSameWhereSomethingIsWritten) {
  const RunningService server;
  const auto status = [&](const std::string& origin) {
    return server.ask("POST", "/exchange", "Origin: " + origin + "\r\n", bringing({remark(1)})).status;
  };
  EXPECT_EQ(status("http://evil.example"), 403);
  EXPECT_EQ(status("null"), 403);
  EXPECT_EQ(status(fmt::format("http://localhost:{}", server.port())), 403) << "asked as 127.0.0.1";
  EXPECT_EQ(server.ask("PUT", "/pictures/" + std::string(64, '0'), "Origin: http://evil.example\r\n", "x").status, 403);
  const std::string own = fmt::format("http://127.0.0.1:{}", server.port());
  EXPECT_EQ(status(own + "\r\nOrigin: " + own), 403) << "two";
  EXPECT_EQ(server.store().ids()->size(), 0U);
  EXPECT_EQ(status(own), 204);
  EXPECT_EQ(server.ask("GET", "/", "Origin: http://evil.example\r\n").status, 200) << "who reads cannot read it there";
}

TEST(Body, IsLimited) {
  Limits limits = patient();
  limits.exchange_bytes = 1000;
  limits.picture_bytes = 500;
  const RunningService server(limits);
  EXPECT_EQ(server.ask("POST", "/exchange", "", std::string(1001, 'x')).status, 413);
  EXPECT_EQ(server.ask("POST", "/exchange", "", std::string(1000, 'x')).status, 400) << "read, and no message";
  EXPECT_EQ(server.ask("PUT", "/pictures/" + std::string(64, '0'), "", std::string(501, 'x')).status, 413);
  EXPECT_EQ(server.ask("GET", "/about", "", "x").status, 413);
  const std::string of_many = "Content-Length: 99999999999999999\r\n";
  EXPECT_EQ(server.ask("POST", "/exchange", of_many).status, 413);
  EXPECT_EQ(server.ask("POST", "/exchange", "Content-Length: 18446744073709551615\r\n").status, 413);
  EXPECT_EQ(server.ask("POST", "/exchange", "Content-Length: 18446744073709551616\r\n").status, 400);
  EXPECT_EQ(server.ask("POST", "/exchange", "Content-Length: -1\r\n").status, 400);
  // A client that sends all of it first still gets to read why.
  const Response got = server.ask("POST", "/exchange", "", std::string(5'000'000, 'x'));
  EXPECT_EQ(got.status, 413);
  EXPECT_EQ(got.field("connection"), "close");
}

std::string chunked(std::string_view body, std::size_t each) {
  std::string text;
  for (std::size_t i = 0; i < body.size(); i += each) {
    const std::string_view chunk = body.substr(i, each);
    text += fmt::format("{:x}\r\n{}\r\n", chunk.size(), chunk);
  }
  return text + "0\r\n\r\n";
}

TEST(Body, MayComeInChunks) {
  Limits limits = patient();
  limits.exchange_bytes = 10'000;
  const RunningService server(limits);
  const std::string fields = "Transfer-Encoding: chunked\r\n";
  const auto ask = [&](const std::string& body) {
    Client client(server.port());
    client.send(client.request("POST", "/exchange", fields) + body);
    return client.read().status;
  };
  EXPECT_EQ(ask(chunked(bringing({remark(1)}), 7)), 204);
  EXPECT_EQ(ask(chunked(bringing({remark(2)}), 100'000)), 204);
  EXPECT_EQ(ask(chunked(std::string(10'001, 'x'), 1000)), 413);
  EXPECT_EQ(ask(chunked(std::string(10'001, 'x'), 100'000)), 413);
  EXPECT_EQ(ask("ffffffffffffffff\r\nx"), 413);
  EXPECT_EQ(ask("xyz\r\n"), 400);
  EXPECT_EQ(server.store().ids()->size(), 2U);
}

TEST(Body, IsNeverOfTwoReadings) {
  const RunningService server;
  const auto status = [&](const std::string& fields) {
    return server.ask("POST", "/exchange", fields, bringing({remark(1)})).status;
  };
  EXPECT_EQ(status("Content-Length: 5\r\n"), 400);
  EXPECT_EQ(status(fmt::format("Content-Length: {}\r\n", bringing({remark(1)}).size())), 400) << "twice the same";
  EXPECT_EQ(status("Transfer-Encoding: chunked\r\n"), 400);
  EXPECT_EQ(server.ask("POST", "/exchange", "Content-Length: 3, 3\r\n").status, 400);
  EXPECT_EQ(server.ask("POST", "/exchange", "Content-Length: +3\r\n").status, 400);
  for (const char* coding :
       {"gzip, chunked", "gzip", "identity", "chunked, chunked", "chunked\r\nTransfer-Encoding: chunked"}) {
    EXPECT_EQ(server.ask("POST", "/exchange", fmt::format("Transfer-Encoding: {}\r\n", coding)).status, 400) << coding;
  }
  EXPECT_EQ(status("Content-Encoding: gzip\r\n"), 415);
  EXPECT_EQ(server.store().ids()->size(), 0U);
  EXPECT_EQ(status("Content-Encoding: identity\r\n"), 204);
}

TEST(Body, IsWaitedForWhereTheClientAsksFirst) {
  const RunningService server;
  Client client(server.port());
  const std::string body = bringing({remark(1)});
  client.send(
      client.request("POST", "/exchange", fmt::format("Expect: 100-continue\r\nContent-Length: {}\r\n", body.size())));
  EXPECT_EQ(client.read().status, 100);
  client.send(body);
  EXPECT_EQ(client.read().status, 204);
  EXPECT_EQ(server.ask("POST", "/exchange", "Expect: 100-continue\r\nContent-Length: 999999999\r\n").status, 413);
}

TEST(Body, OfAllTogetherIsLimited) {
  Limits limits = patient();
  limits.all_bodies_bytes = 10'000;
  const RunningService server(limits);
  Client holds(server.port());
  holds.send(holds.request("POST", "/exchange", "Content-Length: 20000\r\n") + std::string(9000, 'x'));
  Response got{.status = 400};
  // Until what the first has sent is there.
  while (got.status == 400) got = server.ask("POST", "/exchange", "", std::string(5000, 'x'));
  EXPECT_EQ(got.status, 503);
  EXPECT_EQ(got.field("retry-after"), "2");
  EXPECT_EQ(server.ask("GET", "/").status, 200);
  // What is sent counts like what is taken.
  const std::string picture(10'001, 'p');
  const auto digest = daybook::sha256(picture);
  ASSERT_TRUE(server.store().add({}, {{digest, picture}}));
  EXPECT_EQ(server.ask("GET", "/pictures/" + daybook::to_text(digest)).status, 503);
}

TEST(Head, IsLimited) {
  const RunningService server;
  std::string many;
  for (int i = 0; i < 200; ++i) many += fmt::format("X-Flood-{}: {}\r\n", i, std::string(60, 'x'));
  EXPECT_EQ(server.ask("GET", "/", many).status, 431);
  EXPECT_EQ(server.ask("GET", "/", "X: " + std::string(20'000, 'x') + "\r\n").status, 431);
  EXPECT_EQ(server.ask("GET", "/" + std::string(20'000, 'x')).status, 431);
  EXPECT_EQ(server.ask("GET", "/", "X: " + std::string(7000, 'x') + "\r\n").status, 200);
}

TEST(Head, WithoutAnEndIsNotListenedTo) {
  Limits limits = patient();
  limits.parting = milliseconds(20);
  const RunningService server(limits);
  Client client(server.port());
  bool is_taken = client.send("GET / HTTP/1.1\r\nX: ");
  while (is_taken) is_taken = client.send(std::string(1000, 'x'));
  EXPECT_FALSE(is_taken);
}

TEST(Head, MustBeHttp) {
  const RunningService server;
  for (const std::string& bytes :
       {std::string("rubbish\r\n\r\n"), std::string("GET / HTTP/2.0\r\n\r\n"), std::string("GET /\r\n\r\n"),
        std::string("\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03\r\n\r\n", 15),
        std::string("GET / HTTP/1.1\r\nNo colon\r\n\r\n"), std::string("GET / HTTP/1.1\r\nA : b\r\n\r\n"),
        std::string("GET / HTTP/1.1\r\nA: \x01\r\n\r\n"), std::string("GET  / HTTP/1.1\r\n\r\n")}) {
    EXPECT_EQ(server.answer_to(bytes).status, 400) << bytes;
  }
  EXPECT_EQ(server.ask("GET", "/").status, 200);
}

TEST(Connections, CarryManyRequests) {
  const RunningService server;
  Client client(server.port());
  std::string both = client.request("GET", "/about") + client.request("POST", "/exchange", "", bringing({remark(1)})) +
                     client.request("GET", "/about") + client.request("HEAD", "/") + client.request("GET", "/");
  client.send(both);
  EXPECT_NE(client.read().body.find("\"entries\":0"), std::string::npos);
  EXPECT_EQ(client.read().status, 204);
  EXPECT_NE(client.read().body.find("\"entries\":1"), std::string::npos);
  EXPECT_EQ(client.read(true).status, 200);
  EXPECT_EQ(client.read().body, kIndex);
  client.send(client.request("GET", "/", "Connection: close\r\n"));
  EXPECT_EQ(client.read().field("connection"), "close");
  EXPECT_EQ(client.read_rest(), "");
  EXPECT_EQ(server.answer_to(fmt::format("GET / HTTP/1.0\r\nHost: 127.0.0.1:{}\r\n\r\n", server.port())).body, kIndex);
}

TEST(Connections, AreLimited) {
  Limits limits = patient();
  limits.connections = 2;
  const RunningService server(limits);
  Client first(server.port());
  auto second = std::make_unique<Client>(server.port());
  EXPECT_EQ(first.ask("GET", "/").status, 200);
  EXPECT_EQ(second->ask("GET", "/").status, 200);
  EXPECT_EQ(server.ask("GET", "/").status, 0);
  EXPECT_EQ(first.ask("GET", "/").status, 200);
  second.reset();
  int status = 0;
  while (status == 0) status = server.ask("GET", "/").status;
  EXPECT_EQ(status, 200);
}

TEST(Connections, MayAskOnlySoOften) {
  Limits limits = patient();
  limits.rate = {.each_second = 0, .at_once = 3};
  const RunningService server(limits);
  for (int i = 0; i < 3; ++i) EXPECT_EQ(server.ask("GET", "/").status, 200);
  const Response got = server.ask("GET", "/");
  EXPECT_EQ(got.status, 429);
  EXPECT_EQ(got.field("retry-after"), "1");
  EXPECT_EQ(got.field("connection"), "close");
}

TEST(Slow, ClientsAreDropped) {
  Limits limits = patient();
  limits.idle = limits.head = limits.body = milliseconds(50);
  const RunningService server(limits);
  Client silent(server.port());
  Client half_head(server.port());
  half_head.send("GET / HT");
  Client half_body(server.port());
  half_body.send(half_body.request("POST", "/exchange", "Content-Length: 1000\r\n") + "{");
  Client half_chunk(server.port());
  half_chunk.send(half_chunk.request("POST", "/exchange", "Transfer-Encoding: chunked\r\n") + "5\r\nab");
  Client kept(server.port());
  EXPECT_EQ(kept.ask("GET", "/").status, 200);
  for (Client* client : {&silent, &half_head, &half_body, &half_chunk, &kept}) EXPECT_EQ(client->read_rest(), "");
}

TEST(Slow, DripsAreNoRescue) {
  Limits limits = patient();
  limits.head = milliseconds(100);
  const RunningService server(limits);
  Client client(server.port());
  bool is_taken = true;
  while (is_taken) {
    is_taken = client.send("X");
    std::this_thread::sleep_for(milliseconds(10));
  }
  EXPECT_EQ(client.read_rest(), "");
}

TEST(Slow, WhoDoesNotReadIsDropped) {
  Limits limits = patient();
  limits.writing = milliseconds(50);
  limits.connections = 1;
  const RunningService server(limits);
  const std::string picture(16 * kMegabyte, 'p');
  const auto digest = daybook::sha256(picture);
  ASSERT_TRUE(server.store().add({}, {{digest, picture}}));
  Client client(server.port());
  client.send(client.request("GET", "/pictures/" + daybook::to_text(digest)));
  int status = 0;
  while (status != 200) status = server.ask("GET", "/").status;  // there is room for another: the first was dropped
  EXPECT_LT(client.read_rest().size(), picture.size());
}

TEST(Rubbish, OfAnyKindLeavesTheServerUp) {
  const RunningService server;
  const std::string good = Client(server.port()).request("POST", "/exchange", "Accept: */*\r\n", bringing({remark(1)}));
  for (std::uint64_t round = 0; round < 300; ++round) {
    std::string bytes = good;
    for (std::uint64_t i = 0; i <= random_bits(1, round) % 8; ++i) {
      const std::size_t at = random_bits(2, 100 * round + i) % bytes.size();
      const auto byte = static_cast<char>(random_bits(3, 100 * round + i));
      switch (random_bits(4, 100 * round + i) % 3) {
        case 0:
          bytes[at] = byte;
          break;
        case 1:
          bytes.insert(at, 1, byte);
          break;
        default:
          bytes.erase(at, 1 + random_bits(5, round) % 20);
      }
    }
    const Client client(server.port());
    client.send(bytes);
  }
  EXPECT_EQ(server.ask("GET", "/").status, 200);
  EXPECT_LE(server.store().ids()->size(), 300U);
}

TEST(Stopping, EndsWhateverIsOpen) {
  RunningService server;
  const std::uint16_t port = server.port();
  Client silent(port);
  Client listens(server.port());
  listens.send(listens.request("GET", "/news"));
  EXPECT_EQ(listens.read().status, 200);
  Client half_head(server.port());
  half_head.send("GET / HT");
  Client half_body(server.port());
  half_body.send(half_body.request("POST", "/exchange", "Content-Length: 1000\r\n") + "{");
  EXPECT_EQ(server.ask("GET", "/").status, 200);
  server.stop();
  for (Client* client : {&silent, &half_head, &half_body}) EXPECT_EQ(client->read_rest(), "");
  listens.read_rest();
  EXPECT_FALSE(Client(port).is_connected());
  server.stop();
}

TEST(Beginning, SaysWhyItCannot) {
  const RunningService server;
  const host::TemporaryFolder folder;
  ServiceRequest request{.page = make_page(folder),
                         .daybook = folder.path("new.daybook"),
                         .port = server.port(),
                         .version = "1",
                         .tell = {}};
  const auto taken = Service::begin(request);
  ASSERT_FALSE(taken);
  EXPECT_EQ(taken.error().field, "port");
  EXPECT_EQ(taken.error().problem, fmt::format("port {} is taken by another program", server.port()));
  request.port = 0;
  request.page = folder.path("none");
  EXPECT_FALSE(Service::begin(request));
  EXPECT_FALSE(std::filesystem::exists(request.daybook)) << "no daybook was begun for nothing";
  request.page = folder.path("page");
  request.daybook = folder.path("page");
  const auto refused = Service::begin(request);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().problem, "this is a folder");
}

}  // namespace
}  // namespace strikebed::server
