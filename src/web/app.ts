import { randomUUID } from 'node:crypto';
import path from 'node:path';
import formbody from '@fastify/formbody';
import staticFiles from '@fastify/static';
import Fastify, { LogController, type FastifyInstance } from 'fastify';
import { multipartForms } from '../attachments/multipart.ts';
import { apiRoutes } from '../api/routes.ts';
import { tokenReader } from '../api/tokens/service.ts';
import { attachmentRoutes } from '../attachments/routes.ts';
import { ownAccountRoutes } from '../people/accounts/own-account-routes.ts';
import { accountRoutes } from '../people/accounts/routes.ts';
import { codeRoutes } from '../people/second-factor/routes.ts';
import { codeSignInRoutes } from '../people/second-factor/sign-in-routes.ts';
import { openPageRoutes } from '../notify/live/routes.ts';
import { mailChoiceRoutes } from '../notify/choice/routes.ts';
import { inspectionRoutes } from '../inspection/routes.ts';
import { offlineRoutes } from '../inspection/offline/routes.ts';
import { selfCheckRoutes } from '../inspection/self-check/routes.ts';
import { setChoiceRoutes } from '../inspection/visits/set-choice-routes.ts';
import { planRoutes } from '../inspection/plan/routes.ts';
import { siteRoutes } from '../site/routes.ts';
import { peopleRoutes } from '../people/routes.ts';
import { resetRoutes } from '../people/resets/routes.ts';
import { itemFormRoutes } from '../record/items/form-routes.ts';
import { calculationSheetRoutes } from '../report/calculation-sheet/routes.ts';
import { checklistPaperRoutes } from '../report/checklist/routes.ts';
import { fastenerScheduleRoutes } from '../report/fastener-schedule/routes.ts';
import { ownerSummaryRoutes } from '../report/owner-summary/routes.ts';
import { packageRoutes } from '../report/package/routes.ts';
import { drawingSheetRoutes } from '../report/drawing-sheet/routes.ts';
import { openingDrawingRoutes } from '../report/opening-drawings/routes.ts';
import { liveRoutes } from '../record/items/live-routes.ts';
import { itemRoutes } from '../record/items/routes.ts';
import { candidateRoutes } from '../record/candidates/routes.ts';
import { reviewRoutes } from '../record/marks/review-routes.ts';
import { markRoutes } from '../record/marks/routes.ts';
import { openingRoutes } from '../record/openings/routes.ts';
import { projectRoutes } from '../record/projects/routes.ts';
import { scheduleRoutes } from '../record/schedule/routes.ts';
import { deliveryRoutes } from '../site/deliveries/routes.ts';
import { substitutionRoutes } from '../site/deliveries/substitution-routes.ts';
import { materialRoutes } from '../site/materials/routes.ts';
import { setCheckRoutes } from '../record/sets/check-routes.ts';
import { setRoutes } from '../record/sets/routes.ts';
import { worklistRoutes } from '../record/worklist/routes.ts';
import type { Deps } from './deps.ts';
import { access } from './plugins/access.ts';
import { compression } from './plugins/compression.ts';
import { errors } from './plugins/errors.ts';
import { keptForms } from './plugins/kept-forms.ts';
import { security } from './plugins/security.ts';
import { session } from './plugins/session.ts';
import { views } from './plugins/views.ts';
import { publicRoutes } from './public-routes.ts';
import { requestInLog } from './request-in-log.ts';
import { unreadableAddress } from './unreadable-address.ts';

/** Where the lines of the log go, each as JSON with its line break. */
export interface LogStream {
  write: (line: string) => void;
}

/**
 * The whole service as one list: what every request passes through, then the rooms. Opens no port; server.ts
 * does, and tests use `inject`. The log goes to the standard output where no other stream is given.
 */
export async function buildApp(deps: Deps, cookieSecret: string, log?: LogStream): Promise<FastifyInstance> {
  const { config } = deps;
  const app = Fastify({
    logger:
      config.logLevel === 'silent'
        ? false
        : {
            level: config.logLevel,
            redact: ['req.headers.cookie', 'req.headers.authorization'],
            serializers: { req: requestInLog },
            ...(log === undefined ? {} : { stream: log }),
          },
    logController: new LogController({ disableRequestLogging: config.logLevel !== 'debug' }),
    genReqId: () => randomUUID(),
    trustProxy: config.trustedProxies.length > 0 ? [...config.trustedProxies] : false,
    frameworkErrors: unreadableAddress,
    bodyLimit: 1024 * 1024,
    connectionTimeout: 60_000,
    requestTimeout: 300_000,
    keepAliveTimeout: 10_000,
    forceCloseConnections: 'idle',
    routerOptions: { maxParamLength: 200 },
  });

  await app.register(compression);
  await app.register(session, { sessions: deps.sessions, readToken: tokenReader(deps) });
  await app.register(keptForms, { deps, config, cookieSecret });
  await app.register(security, { config, cookieSecret });
  await app.register(views, { config, cookieSecret });
  await app.register(errors);
  await app.register(access, { prisma: deps.prisma, codesRequired: config.codesRequired });
  await app.register(formbody);
  await app.register(multipartForms, { uploadLimitBytes: config.uploadLimitBytes });
  await app.register(staticFiles, {
    root: path.join(import.meta.dirname, 'assets'),
    serve: false,
    maxAge: config.production ? '1h' : 0,
  });

  await app.register(publicRoutes, deps);
  await app.register(accountRoutes, { ...deps, secret: cookieSecret });
  await app.register(codeSignInRoutes, { ...deps, secret: cookieSecret });
  await app.register(ownAccountRoutes, { ...deps, secret: cookieSecret });
  await app.register(codeRoutes, { ...deps, secret: cookieSecret });
  await app.register(resetRoutes, deps);
  await app.register(peopleRoutes, deps);
  await app.register(worklistRoutes, deps);
  await app.register(projectRoutes, deps);
  await app.register(openingRoutes, deps);
  await app.register(itemRoutes, deps);
  await app.register(itemFormRoutes, deps);
  await app.register(liveRoutes, deps);
  await app.register(calculationSheetRoutes, deps);
  await app.register(openingDrawingRoutes, deps);
  await app.register(drawingSheetRoutes, deps);
  await app.register(fastenerScheduleRoutes, deps);
  await app.register(packageRoutes, deps);
  await app.register(checklistPaperRoutes, deps);
  await app.register(ownerSummaryRoutes, deps);
  await app.register(candidateRoutes, deps);
  await app.register(markRoutes, deps);
  await app.register(reviewRoutes, deps);
  await app.register(setRoutes, deps);
  await app.register(setCheckRoutes, deps);
  await app.register(scheduleRoutes, deps);
  await app.register(materialRoutes, deps);
  await app.register(deliveryRoutes, deps);
  await app.register(substitutionRoutes, deps);
  await app.register(attachmentRoutes, deps);
  await app.register(inspectionRoutes, deps);
  await app.register(offlineRoutes, deps);
  await app.register(selfCheckRoutes, deps);
  await app.register(setChoiceRoutes, deps);
  await app.register(planRoutes, deps);
  await app.register(siteRoutes, deps);
  await app.register(apiRoutes, { ...deps, secret: cookieSecret });
  await app.register(openPageRoutes, deps);
  await app.register(mailChoiceRoutes, { ...deps, secret: cookieSecret });

  return app;
}
