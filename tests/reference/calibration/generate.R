# Reference values by R, written to r-reference.json beside this file:
#   Rscript generate.R > r-reference.json
# Lines by lm(); limits by finding where the band of predict.lm meets the
# response (no formula of inverse prediction is used); distributions by base R.
num <- function(x) formatC(x, digits = 17, format = "g")
vec <- function(x) paste0("[", paste(num(x), collapse = ", "), "]")
obj <- function(...) {
  fields <- list(...)
  paste0("{", paste0("\"", names(fields), "\": ", unlist(fields), collapse = ", "), "}")
}

norris <- list(
  x = c(0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5, 11.6,
        556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5),
  y = c(0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8,
        557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2))
sets <- list(
  fluorescence = list(x = c(0, 2, 4, 6, 8, 10, 12), y = c(2.1, 5.0, 9.0, 12.6, 17.3, 21.0, 24.7)),
  norris = norris,
  # an invented volume series: one standard of 25 mg/L at 2 to 10 microlitres, amounts in ng
  volumes = list(x = 25 * c(2, 4, 6, 8, 10), y = c(43.1, 81.0, 122.6, 160.9, 201.7)),
  # a poor line: limits far from symmetric
  poor = list(x = c(1, 2, 3, 4, 5), y = c(2.6, 3.4, 5.9, 6.4, 8.1)))

root <- function(f, from, to) uniroot(f, c(from, to), tol = 1e-14, maxiter = 10000)$root

limits <- function(fit, y0, m, level) {
  s <- summary(fit)$sigma
  t <- qt(1 - (1 - level) / 2, fit$df.residual)
  x0 <- (y0 - coef(fit)[[1]]) / coef(fit)[[2]]
  miss <- function(x) {
    p <- predict(fit, data.frame(x = x), se.fit = TRUE)
    abs(y0 - p$fit) - t * sqrt(s^2 / m + p$se.fit^2)
  }
  step <- 50 * s / abs(coef(fit)[[2]])
  c(x0, root(miss, x0 - step, x0), root(miss, x0, x0 + step))
}

ratio <- function(fit, y0, m, x, level) {
  s <- summary(fit)$sigma
  t <- qt(1 - (1 - level) / 2, fit$df.residual)
  p <- predict(fit, data.frame(x = x), se.fit = TRUE)
  r <- y0 / p$fit
  miss <- function(q) abs(y0 - q * p$fit) - t * sqrt(s^2 / m + q^2 * p$se.fit^2)
  c(r, root(miss, r * 0.5, r), root(miss, r, r * 1.5))
}

lines <- sapply(names(sets), function(name) {
  x <- sets[[name]]$x
  y <- sets[[name]]$y
  fit <- lm(y ~ x)
  v <- vcov(fit)
  readings <- sapply(c(0.3, 0.6, 0.9), function(q) {
    y0 <- min(y) + q * (max(y) - min(y))
    sapply(c(1, 3), function(m) obj(response = num(y0), m = num(m), found = vec(limits(fit, y0, m, 0.95))))
  })
  obj(x = vec(x), y = vec(y), coefficients = vec(unname(coef(fit))), covariance = vec(c(v[1, 1], v[1, 2], v[2, 2])),
      sigma = num(summary(fit)$sigma), rSquared = num(summary(fit)$r.squared),
      confint90 = vec(as.vector(t(confint(fit, level = 0.9)))), leverage = vec(unname(hatvalues(fit))),
      residuals = vec(unname(resid(fit))), readings = paste0("[", paste(readings, collapse = ", "), "]"))
})
fit <- lm(y ~ x, data = sets$volumes)
ratios <- sapply(c(1, 2, 4), function(m) obj(response = num(130.7), m = num(m), volume = num(7), found = vec(ratio(fit, 130.7, m, 25 * 7, 0.95))))

dof <- c(1, 2, 2.5, 3, 5, 8, 10, 30, 100, 1000, 1e5, 1e8)
tail <- c(0.4, 0.1, 0.025, 0.005, 1e-4, 1e-8)
t_rows <- sapply(dof, function(v) obj(df = num(v), quantiles = vec(qt(tail, v, lower.tail = FALSE)), tails = vec(pt(c(0.1, 1, 2.5, 6, 40), v, lower.tail = FALSE))))
f_pairs <- list(c(1, 1), c(1, 3), c(1, 5), c(2, 8), c(3, 10), c(4, 12), c(7, 2), c(30, 40), c(200, 500), c(1, 1e5))
f_tail <- c(0.9, 0.5, 0.1, 0.05, 0.01, 1e-5)
# qf loses digits when F is small and d2 large; with d1 = 1 the square of t is exact
f_quantile <- function(p, d) if (d[1] == 1) qt(p / 2, d[2], lower.tail = FALSE)^2 else qf(p, d[1], d[2], lower.tail = FALSE)
f_rows <- sapply(f_pairs, function(d) obj(d1 = num(d[1]), d2 = num(d[2]), quantiles = vec(f_quantile(f_tail, d)), tails = vec(pf(c(0.2, 1, 3, 20), d[1], d[2], lower.tail = FALSE))))
z <- c(-6, -1, 0, 0.5, 1, 1.9999, 2, 3, 5, 10, 20, 37)
z_tail <- c(1e-300, 1e-100, 1e-20, 1e-10, 1e-4, 0.025, 0.3, 0.5, 0.7, 0.975, 0.999999)
b <- list(c(0.5, 0.5), c(0.5, 5), c(3, 4), c(0.5, 50), c(12, 15), c(0.5, 5e4), c(100, 2000))

cat(paste0("{\n\"lines\": {\n", paste0("\"", names(lines), "\": ", lines, collapse = ",\n"), "\n},\n",
  "\"ratios\": [", paste(ratios, collapse = ", "), "],\n",
  "\"studentT\": {\"tail\": ", vec(tail), ", \"at\": [0.1, 1, 2.5, 6, 40], \"rows\": [\n", paste(t_rows, collapse = ",\n"), "\n]},\n",
  "\"f\": {\"tail\": ", vec(f_tail), ", \"at\": [0.2, 1, 3, 20], \"rows\": [\n", paste(f_rows, collapse = ",\n"), "\n]},\n",
  "\"normal\": {\"at\": ", vec(z), ", \"tails\": ", vec(pnorm(z, lower.tail = FALSE)), ", \"p\": ", vec(z_tail), ", \"quantiles\": ", vec(qnorm(z_tail)), "},\n",
  "\"logBeta\": [", paste(sapply(b, function(p) vec(c(p, lbeta(p[1], p[2])))), collapse = ", "), "],\n",
  "\"r\": \"", R.version.string, "\"\n}\n"))
