#!/usr/bin/env Rscript
# One season of seedling cuttings in R, as a careful user would write it: whole matrices at a time, R's own distribution
# functions, in blocks of futures that stay in the processor's cache, no loop over futures, cohorts or seeds.
#
#     peer_r.R FOLDER [RUNS]     FOLDER as season_for_peers fills it
#
# Prints how sure the goal is with each number of seeds, and the median processor time of the parts, in ms.

block_size <- 128 # futures; tried from 128 to 2,048

read_season <- function(folder) {
  season <- list()
  for (line in strsplit(readLines(file.path(folder, "season.txt")), " ")) {
    if (line[2] %in% c("beta", "known")) {
      season[[line[1]]] <- list(kind = line[2], a = as.numeric(line[3]), b = as.numeric(line[4]),
                                spread = as.numeric(line[5]))
    } else {
      season[[line[1]]] <- as.numeric(line[-1])
    }
  }
  days <- season$days + 1
  for (clock in c("germination", "ripening", "rooting")) {
    sums <- readBin(file.path(folder, paste0(clock, ".f32")), "numeric", days * season$weather_seasons, size = 4)
    season[[paste0(clock, "_sum")]] <- matrix(sums, ncol = days, byrow = TRUE) # day d is column d + 1
  }
  season
}

drawn_logit <- function(rate, n) qlogis(if (rate$kind == "beta") rbeta(n, rate$a, rate$b) else rep(rate$a, n))
drawn_log <- function(timing, n) timing[1] + timing[2] * rnorm(n)

# Everything that is not known, once for each future.
draw_futures <- function(season) {
  n <- season$futures
  sessions <- length(season$session_days)
  f <- list(weather = sample(rep_len(seq_len(season$weather_seasons), n)))
  for (name in c("germination_time", "ripening_time", "rooting_time")) f[[name]] <- drawn_log(season[[name]], n)
  for (name in c("germination_spread", "cover_time", "ripening_spread", "rooting_spread", "weaning_days"))
    f[[name]] <- exp(drawn_log(season[[name]], n))
  f$window_ratio <- pmax(exp(drawn_log(season$window_end, n) - f$ripening_time), 1.05)
  f$edge_odds <- pmin(drawn_log(season$edge_odds, n), 0)
  for (name in c("germination", "standing", "grade")) # one batch a season
    f[[name]] <- plogis(drawn_logit(season[[name]], n) + season[[name]]$spread * rnorm(n))
  for (name in c("usable", "take", "weaning")) { # a batch a session
    logit <- drawn_logit(season[[name]], n)
    spread <- season[[name]]$spread
    f[[name]] <- if (spread > 0) logit + matrix(spread * rnorm(n * sessions), n) else matrix(logit, n, sessions)
  }
  f
}

# Per future and session: share of standing seedlings whose first session in their window it is; mean ripening clock at
# which their windows opened; mean and sd of the clock at which they close. Cohorts by day of emergence.
thermal_shares <- function(season, f) {
  n <- season$futures
  days <- season$session_days
  sow <- season$sow_day
  last <- max(days)
  offered <- opened <- closes <- closes_sd <- matrix(0, n, length(days))
  for (start in seq(1, n, block_size)) {
    block <- start:min(start + block_size - 1, n)
    weather <- f$weather[block]
    germination <- season$germination_sum[weather, (sow + 1):(last + 1)]
    warmth <- germination[, -1] - germination[, 1] - f$cover_time[block]
    emerged <- plnorm(warmth, f$germination_time[block], f$germination_spread[block])
    over <- which(apply(emerged, 2, min) > 1 - 1e-5)
    over <- if (length(over) > 0) over[1] else ncol(emerged)
    share <- cbind(emerged[, 1], emerged[, 2:over] - emerged[, 1:(over - 1)])
    share <- share / ifelse(emerged[, over] > 1 - 2e-5, emerged[, over], 1)
    first <- which(apply(share, 2, max) > 1e-6)[1]
    share <- share[, first:over]
    ripening <- season$ripening_sum[weather, ]
    emergence <- ripening[, (sow + 1 + first):(sow + 1 + over)]
    log_median <- f$ripening_time[block]
    spread <- f$ripening_spread[block]
    ratio <- f$window_ratio[block]
    gain_before <- ready_before <- 0
    for (s in seq_along(days)) {
      if (days[s] <= sow) next
      gain <- ripening[, days[s] + 1] - emergence
      gain[gain < 0] <- 0
      ready <- plnorm(gain, log_median, spread)
      closed <- plnorm(gain, log_median + log(ratio), spread)
      part <- ready - pmax(ready_before, closed)
      part[part < 0] <- 0
      part <- part * share
      middle <- (pmax(gain_before, gain / ratio) + gain) / 2
      total <- rowSums(part)
      per_total <- 1 / pmax(total, 1e-12)
      offered[block, s] <- total
      opened[block, s] <- rowSums(part * (emergence + middle)) * per_total
      closing <- emergence + middle * ratio
      weighted <- part * closing
      mean <- rowSums(weighted) * per_total
      closes[block, s] <- mean
      closes_sd[block, s] <- sqrt(pmax(rowSums(weighted * closing) * per_total - mean^2, 1))
      gain_before <- gain
      ready_before <- ready
      if (min(ready) > 1 - 1e-6) break
    }
  }
  list(offered = offered, opened = opened, closes = closes, closes_sd = closes_sd)
}

# One course of every season at the bench, seedlings counted whole: who arrives, whose window closes while they wait for
# room, who is struck (who has waited longest first), who is counted in the end.
counted_plants <- function(season, f, shares, seeds) {
  n <- season$futures
  days <- season$session_days
  sessions <- length(days)
  ripening <- season$ripening_sum[f$weather, days + 1]
  rooting <- season$rooting_sum[f$weather, ]
  deadline <- season$by_day - round(f$weaning_days)
  warmth <- rooting[cbind(seq_len(n), deadline + 1)] - rooting[, days + 1]
  in_time <- plnorm(warmth, f$rooting_time, f$rooting_spread)
  after <- in_time * plogis(f$weaning) * f$grade
  accepted <- f$germination * f$standing * shares$offered * plogis(f$usable)
  cap <- season$cuttings_at_most

  unseen <- rep(seeds, n)
  seen_share <- numeric(n)
  waiting <- matrix(0, n, sessions)
  open_before <- matrix(1, n, sessions)
  counted <- numeric(n)
  head <- 1 # the first group of which any are left
  for (s in seq_len(sessions)) {
    waiting[, s] <- rbinom(n, unseen, pmin(accepted[, s] / pmax(1 - seen_share, 1e-9), 1))
    unseen <- unseen - waiting[, s]
    seen_share <- seen_share + accepted[, s]
    while (head < s && !any(waiting[, head] > 0)) head <- head + 1
    struck_before <- numeric(n) # at this session, from the groups that have waited longer
    for (group in head:s) {
      here <- which(waiting[, group] > 0)
      if (length(here) == 0) next
      open_now <- pnorm((shares$closes[here, group] - ripening[here, s]) / shares$closes_sd[here, group])
      if (group < s) {
        stay <- pmin(open_now / pmax(open_before[here, group], 1e-12), 1)
        waiting[here, group] <- rbinom(length(here), waiting[here, group], stay)
      }
      open_before[here, group] <- open_now
      struck <- pmin(waiting[here, group], cap - struck_before[here])
      waiting[here, group] <- waiting[here, group] - struck
      struck_before[here] <- struck_before[here] + struck
      opened <- shares$opened[here, group]
      position <- (ripening[here, s] - opened) / pmax(shares$closes[here, group] - opened, 1)
      take <- plogis(f$take[here, s] + f$edge_odds[here] * (2 * position - 1)^2)
      counted[here] <- counted[here] + rbinom(length(here), struck, take * after[here, s])
    }
  }
  counted
}

arguments <- commandArgs(trailingOnly = TRUE)
season <- read_season(arguments[1])
runs <- if (length(arguments) > 1) as.integer(arguments[2]) else 5
processor_ms <- function() 1000 * sum(proc.time()[c("user.self", "sys.self")])
times <- NULL
sure <- NULL
for (run in seq_len(runs)) {
  set.seed(run)
  began <- processor_ms()
  futures <- draw_futures(season)
  drawn <- processor_ms()
  shares <- thermal_shares(season, futures)
  shared <- processor_ms()
  counted <- counted_plants(season, futures, shares, season$seeds[1])
  done <- processor_ms()
  times <- rbind(times, c(draws = drawn - began, shares = shared - drawn, plan = done - shared, whole = done - began))
  other <- vapply(season$seeds[-1], function(n) mean(counted_plants(season, futures, shares, n) >= season$wanted), 0)
  sure <- rbind(sure, c(mean(counted >= season$wanted), other))
}
cat(sprintf("assurance_%.0f %.4f\n", season$seeds, colMeans(sure)), sep = "")
for (name in colnames(times)) cat(sprintf("%s_ms %.1f\n", name, median(times[, name])))
cat(sprintf("whole_fastest_ms %.1f\n", min(times[, "whole"])))
cat(sprintf("version R %s.%s\n", R.version$major, R.version$minor))
